import { minuteMs } from '#shared/durations.ts';
import type { Database } from '../database.ts';
import type { WriteStop } from './writeStops.ts';

const mostCrashes = 5;
const lately = { ms: 10 * minuteMs, inWords: 'ten minutes' };

/** How often the log was opened of late without a clean end, not counting the start under way. */
export async function recentCrashes(
  { execute }: Pick<Database, 'execute'>,
  nowMs: number,
): Promise<number> {
  const { rows } = await execute({
    sql: `SELECT count(*) AS starts FROM upkeep_event
          WHERE kind = 'started' AND at_ms BETWEEN ? AND ?
            AND number > coalesce((SELECT max(number) FROM upkeep_event WHERE kind = 'stopped'), 0)`,
    args: [nowMs - lately.ms, nowMs],
  });
  return Math.max(0, Number(rows[0]?.starts) - 1);
}

/**
 * Why only reading is safe after crash upon crash: whatever ends it might be what is written next.
 * A clean end, by hand, lets the next start write again.
 */
export async function crashStop(
  database: Pick<Database, 'execute'>,
  nowMs: number,
): Promise<WriteStop | undefined> {
  const crashes = await recentCrashes(database, nowMs);
  return crashes < mostCrashes
    ? undefined
    : {
        code: 'read_only',
        reason: `Barmbook ended unexpectedly ${crashes} times within ${lately.inWords}, so it only reads for now. Look in its log for the cause; then stop it and start it again, and it writes.`,
      };
}
