import type { InStatement } from '@libsql/client';
import { and, desc, eq, max, or, sql } from 'drizzle-orm';
import { minuteMs } from '#shared/durations.ts';
import type { Database, Query } from '../database.ts';
import { prepared } from '../prepared.ts';
import { account, accountRole, knownDevice, session } from '../schema/index.ts';
import { type Account, rolesOf } from './accounts.ts';
import { forgetOldEvents, type SecurityEvent, securityEventStatement } from './securityEvents.ts';
import { tokenStanding } from './sessionRenewal.ts';

export type Session = typeof session.$inferSelect;
/** A session as it begins: its token is the first one. */
type FreshSession = Omit<
  Session,
  'tokenMadeMs' | 'nextTokenSha256' | 'nextMadeMs' | 'oldTokenSha256' | 'oldUntilMs'
>;

const mostPerAccount = 10;
const mostKnownDevices = 20;
/** A session seen within this time is not written again. */
const seenEveryMs = minuteMs;
/** A clock set back further than this ends what was begun after it. */
const clockSlackMs = 5 * minuteMs;

/** Begins a session; beyond ten, the one longest unused ends. */
export async function beginSession(
  database: Database,
  fresh: FreshSession,
  { knownDeviceSha256, event }: { knownDeviceSha256: string | null; event: SecurityEvent },
): Promise<void> {
  await database.write([
    {
      sql: `INSERT INTO session (id, token_sha256, account_id, device, created_ms, proved_ms, last_seen_ms, idle_ms, expires_ms, token_made_ms)
            VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
      args: [
        fresh.id,
        fresh.tokenSha256,
        fresh.accountId,
        fresh.device,
        fresh.createdMs,
        fresh.provedMs,
        fresh.lastSeenMs,
        fresh.idleMs,
        fresh.expiresMs,
        fresh.createdMs,
      ],
    },
    { sql: 'DELETE FROM session WHERE expires_ms <= ?', args: [fresh.createdMs] },
    keepNewest('session', 'last_seen_ms', fresh.accountId, mostPerAccount),
    ...(knownDeviceSha256 === null
      ? []
      : [
          {
            sql: 'INSERT INTO known_device (token_sha256, account_id, created_ms) VALUES (?, ?, ?)',
            args: [knownDeviceSha256, fresh.accountId, fresh.createdMs],
          },
          keepNewest('known_device', 'created_ms', fresh.accountId, mostKnownDevices),
        ]),
    securityEventStatement(event),
    forgetOldEvents(fresh.createdMs),
  ]);
}

const keepNewest = (
  table: 'session' | 'known_device',
  order: string,
  accountId: string,
  most: number,
): InStatement => ({
  sql: `DELETE FROM ${table} WHERE rowid IN (
          SELECT rowid FROM ${table} WHERE account_id = ? ORDER BY ${order} DESC, rowid DESC LIMIT -1 OFFSET ?)`,
  args: [accountId, most],
});

// A row for each role; every request waits for it.
const sessionByToken = prepared((query) =>
  query
    .select({ session, account, held: accountRole })
    .from(session)
    .innerJoin(account, eq(account.id, session.accountId))
    .leftJoin(accountRole, eq(accountRole.accountId, account.id))
    .where(
      or(
        eq(session.tokenSha256, sql.placeholder('tokenSha256')),
        eq(session.nextTokenSha256, sql.placeholder('tokenSha256')),
        eq(session.oldTokenSha256, sql.placeholder('tokenSha256')),
      ),
    )
    .prepare(),
);

/** The live session of a token, the next or the last one too, with its open account. */
export async function findSession(
  query: Query,
  tokenSha256: string,
  nowMs: number,
): Promise<{ session: Session; account: Account } | undefined> {
  const rows = await sessionByToken(query).all({ tokenSha256 });
  const [row] = rows;
  if (row === undefined || !isLive(row.session, nowMs) || row.account.disabledMs !== null)
    return undefined;
  if (tokenStanding(row.session, tokenSha256, nowMs) === undefined) return undefined;
  const held = rows.flatMap((one) => one.held ?? []);
  return { session: row.session, account: { ...row.account, ...rolesOf(held, row.account.id) } };
}

const isLive = (row: Session, nowMs: number) =>
  nowMs < row.expiresMs &&
  nowMs - row.lastSeenMs < row.idleMs &&
  nowMs >= row.createdMs - clockSlackMs;

export async function listSessions(query: Query, accountId: string, nowMs: number) {
  const rows = await query
    .select()
    .from(session)
    .where(eq(session.accountId, accountId))
    .orderBy(desc(session.lastSeenMs));
  return rows.filter((row) => isLive(row, nowMs));
}

/** When each account was last in use, by id; only of sessions not yet over. */
export async function lastSeenByAccount(query: Query): Promise<Map<string, number>> {
  const rows = await query
    .select({ accountId: session.accountId, lastSeenMs: max(session.lastSeenMs) })
    .from(session)
    .groupBy(session.accountId);
  return new Map(rows.map((row) => [row.accountId, row.lastSeenMs ?? 0]));
}

/** Notes that a session was used, at most once a minute. */
export async function touchSession(database: Database, row: Session, nowMs: number): Promise<void> {
  if (Math.abs(nowMs - row.lastSeenMs) < seenEveryMs) return;
  await database
    .write([{ sql: 'UPDATE session SET last_seen_ms = ? WHERE id = ?', args: [nowMs, row.id] }])
    // Reading goes on when nothing can be written.
    .catch(() => undefined);
}

/** Notes that the password was given again. */
export async function proveSession(database: Database, id: string, nowMs: number): Promise<void> {
  await database.write([
    {
      sql: 'UPDATE session SET proved_ms = ?, last_seen_ms = ? WHERE id = ?',
      args: [nowMs, nowMs, id],
    },
  ]);
}

export async function endSession(
  database: Database,
  { id, accountId }: Pick<Session, 'id' | 'accountId'>,
  event: SecurityEvent,
): Promise<void> {
  await database.write([
    { sql: 'DELETE FROM session WHERE id = ? AND account_id = ?', args: [id, accountId] },
    securityEventStatement(event),
  ]);
}

/** Whether this person signed in on the device of this token before. */
export async function isKnownDevice(
  query: Query,
  tokenSha256: string,
  accountId: string,
): Promise<boolean> {
  const rows = await query
    .select()
    .from(knownDevice)
    .where(and(eq(knownDevice.tokenSha256, tokenSha256), eq(knownDevice.accountId, accountId)));
  return rows.length > 0;
}
