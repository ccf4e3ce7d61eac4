import type { InStatement } from '@libsql/client';
import { inArray } from 'drizzle-orm';
import { dayMs } from '#shared/durations.ts';
import type { Database } from '../database.ts';
import { throttle } from '../schema/index.ts';

export type Failures = Omit<typeof throttle.$inferSelect, 'subject'>;

/** How often one subject may fail before it has to wait. */
export type ThrottleRule = {
  subject: string;
  refusedUntilMs: (failures: Failures) => number;
  /** When what went before no longer counts. */
  forgottenMs: (failures: Failures) => number;
};

const forgetAllMs = 7 * dayMs;

/**
 * Counts an attempt as failed before it is made, so that attempts at once count like attempts in a
 * row; `settleAttempts` takes it back after a success.
 * @returns how long to wait when it must not be made [ms]; else 0
 */
export async function countAttempt(
  database: Database,
  rules: readonly ThrottleRule[],
  nowMs: number,
): Promise<number> {
  return database.alone(async (write) => {
    const known = await database.query
      .select()
      .from(throttle)
      .where(
        inArray(
          throttle.subject,
          rules.map(({ subject }) => subject),
        ),
      );
    const standing = rules.map((rule) => {
      const row = known.find(({ subject }) => subject === rule.subject);
      return { rule, row: row && nowMs < rule.forgottenMs(row) ? row : undefined };
    });
    const waitsMs = standing.map(({ rule, row }) =>
      row === undefined ? 0 : rule.refusedUntilMs(withinClock(row, nowMs)) - nowMs,
    );
    const waitMs = Math.max(0, ...waitsMs);
    if (waitMs > 0) return waitMs;
    await write([
      { sql: 'DELETE FROM throttle WHERE last_ms < ?', args: [nowMs - forgetAllMs] },
      ...standing.map(({ rule, row }) =>
        failuresStatement(rule.subject, {
          failures: (row?.failures ?? 0) + 1,
          firstMs: row?.firstMs ?? nowMs,
          lastMs: nowMs,
        }),
      ),
    ]);
    return 0;
  });
}

// A clock that was set back must not make anyone wait until it has caught up.
const withinClock = (row: Failures, nowMs: number): Failures => ({
  failures: row.failures,
  firstMs: Math.min(row.firstMs, nowMs),
  lastMs: Math.min(row.lastMs, nowMs),
});

const failuresStatement = (
  subject: string,
  { failures, firstMs, lastMs }: Failures,
): InStatement => ({
  sql: `INSERT INTO throttle (subject, failures, first_ms, last_ms) VALUES (?, ?, ?, ?)
        ON CONFLICT (subject) DO UPDATE SET failures = excluded.failures,
          first_ms = excluded.first_ms, last_ms = excluded.last_ms`,
  args: [subject, failures, firstMs, lastMs],
});

/** After a success: some subjects start afresh, of others this one attempt is taken back. */
export async function settleAttempts(
  database: Database,
  { afresh, takeBack }: { afresh: readonly string[]; takeBack: readonly string[] },
): Promise<void> {
  await database.write([
    ...afresh.map(freshStatement),
    ...takeBack.flatMap((subject) => [
      { sql: 'DELETE FROM throttle WHERE subject = ? AND failures = 1', args: [subject] },
      { sql: 'UPDATE throttle SET failures = failures - 1 WHERE subject = ?', args: [subject] },
    ]),
  ]);
}

export const freshStatement = (subject: string): InStatement => ({
  sql: 'DELETE FROM throttle WHERE subject = ?',
  args: [subject],
});

/** The subject under which failures to sign in with a user name are counted. */
export const nameSubject = (userName: string) => `name:${userName}`;
