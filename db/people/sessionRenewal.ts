import { eq } from 'drizzle-orm';
import { dayMs, minuteMs } from '#shared/durations.ts';
import type { Database } from '../database.ts';
import { session } from '../schema/index.ts';
import type { Session } from './sessions.ts';

const renewEveryMs = dayMs;
/** How long a browser has to use a new token before it is given another: the answer may be lost. */
const nextWaitsMs = minuteMs;
/** What was sent with the old token while the new one was on its way is still taken. */
const overlapMs = 5 * minuteMs;

/** How a token stands to its session: in use, waiting to be used first, or just replaced. */
export function tokenStanding(
  row: Session,
  tokenSha256: string,
  nowMs: number,
): 'in use' | 'next' | 'old' | undefined {
  if (row.tokenSha256 === tokenSha256) return 'in use';
  if (row.nextTokenSha256 === tokenSha256) return 'next';
  return row.oldTokenSha256 === tokenSha256 && nowMs < (row.oldUntilMs ?? 0) ? 'old' : undefined;
}

/** Whether the token in use is a day old and no other is on its way. */
export const isRenewalDue = ({ tokenMadeMs, nextMadeMs }: Session, nowMs: number) =>
  nowMs - tokenMadeMs >= renewEveryMs &&
  (nextMadeMs === null || Math.abs(nowMs - nextMadeMs) >= nextWaitsMs);

/**
 * Gives a session its next token, should it still be due.
 * @returns whether it was given; of requests at once only one gives it
 */
export async function renewSession(
  database: Database,
  row: Session,
  { nextSha256, nowMs }: { nextSha256: string; nowMs: number },
): Promise<boolean> {
  return (
    database
      .alone(async (write) => {
        const [latest] = await database.query.select().from(session).where(eq(session.id, row.id));
        if (latest?.tokenSha256 !== row.tokenSha256 || !isRenewalDue(latest, nowMs)) return false;
        await write([
          {
            sql: 'UPDATE session SET next_token_sha256 = ?, next_made_ms = ? WHERE id = ?',
            args: [nextSha256, nowMs, row.id],
          },
        ]);
        return true;
      })
      // A log that can only be read keeps the token it has.
      .catch(() => false)
  );
}

/** The next token was used: from now on it is the one, and the one before ends soon. */
export async function beginNextToken(
  database: Database,
  { id, nextTokenSha256 }: Session,
  nowMs: number,
): Promise<void> {
  await database
    .write([
      {
        sql: `UPDATE session SET old_token_sha256 = token_sha256, old_until_ms = ?,
                token_sha256 = next_token_sha256, token_made_ms = next_made_ms,
                next_token_sha256 = NULL, next_made_ms = NULL
              WHERE id = ? AND next_token_sha256 = ?`,
        args: [nowMs + overlapMs, id, nextTokenSha256],
      },
    ])
    .catch(() => undefined);
}
