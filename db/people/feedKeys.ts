import { and, asc, eq, isNull } from 'drizzle-orm';
import { hourMs } from '#shared/durations.ts';
import { DomainError } from '#shared/errors.ts';
import type { Database, Query } from '../database.ts';
import { feedKey } from '../schema/index.ts';
import { type Account, findAccount } from './accounts.ts';
import { type SecurityEvent, securityEventStatement } from './securityEvents.ts';

type FeedKey = typeof feedKey.$inferSelect;

const mostPerAccount = 5;
const usedEveryMs = hourMs;

/** The keys of a person that are in force. */
export async function listFeedKeys(query: Query, accountId: string): Promise<FeedKey[]> {
  return query
    .select()
    .from(feedKey)
    .where(and(eq(feedKey.accountId, accountId), isNull(feedKey.revokedMs)))
    .orderBy(asc(feedKey.createdMs));
}

export async function createFeedKey(
  database: Database,
  key: Omit<FeedKey, 'lastUsedMs' | 'revokedMs'>,
  event: SecurityEvent,
): Promise<void> {
  await database.alone(async (write) => {
    if ((await listFeedKeys(database.query, key.accountId)).length >= mostPerAccount)
      throw new DomainError(
        'conflict',
        `Revoke one first: a person has ${mostPerAccount} at most.`,
      );
    await write([
      {
        sql: 'INSERT INTO feed_key (id, account_id, key_sha256, created_ms) VALUES (?, ?, ?, ?)',
        args: [key.id, key.accountId, key.keySha256, key.createdMs],
      },
      securityEventStatement(event),
    ]);
  });
}

export async function revokeFeedKey(
  database: Database,
  { id, accountId }: Pick<FeedKey, 'id' | 'accountId'>,
  event: SecurityEvent,
): Promise<void> {
  const held = await listFeedKeys(database.query, accountId);
  if (!held.some((key) => key.id === id))
    throw new DomainError('not_found', 'There is no such feed address.');
  await database.write([
    { sql: 'UPDATE feed_key SET revoked_ms = ? WHERE id = ?', args: [event.atMs, id] },
    securityEventStatement(event),
  ]);
}

/** The open account whose feed this key opens. */
export async function accountOfFeedKey(
  database: Database,
  keySha256: string,
  nowMs: number,
): Promise<Account | undefined> {
  const [row] = await database.query
    .select()
    .from(feedKey)
    .where(and(eq(feedKey.keySha256, keySha256), isNull(feedKey.revokedMs)));
  if (row === undefined) return undefined;
  const account = await findAccount(database.query, { id: row.accountId });
  if (account === undefined || account.disabledMs !== null) return undefined;
  if (row.lastUsedMs === null || Math.abs(nowMs - row.lastUsedMs) >= usedEveryMs)
    await noteUse(database, row.id, nowMs);
  return account;
}

// The feed is still served when nothing can be written.
async function noteUse(database: Database, id: string, nowMs: number): Promise<void> {
  await database
    .write([{ sql: 'UPDATE feed_key SET last_used_ms = ? WHERE id = ?', args: [nowMs, id] }])
    .catch(() => undefined);
}
