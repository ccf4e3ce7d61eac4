import { sql } from 'drizzle-orm';
import { clockToleranceMs } from '#shared/entryRules/momentRules.ts';
import type { Query } from '../database.ts';
import type { WriteStop } from '../opening/writeStops.ts';
import type { JournalRow } from './hash.ts';
import { lastRow } from './lastRow.ts';

// No log is older than the tool.
const earliestMs = Date.UTC(2026, 0, 1);

/** Why the clock cannot be right, if so: entries cannot have come in after now. */
export async function clockFault(query: Query, nowMs: number): Promise<WriteStop | undefined> {
  return faultAfter(query, await lastRow(query), nowMs);
}

type Last = Pick<JournalRow, 'seq' | 'receivedMs'>;

/** The same, where the newest entry is known already. */
export async function faultAfter(
  query: Query,
  last: Last | undefined,
  nowMs: number,
): Promise<WriteStop | undefined> {
  const latestMs = Math.max(earliestMs, (last?.receivedMs ?? 0) - clockToleranceMs);
  if (nowMs >= latestMs) return undefined;
  if (last !== undefined && nowMs >= earliestMs && (await isAccepted(query, last.seq)))
    return undefined;
  const shown = (ms: number) => new Date(ms).toISOString();
  return {
    code: 'clock_invalid',
    reason: `The server's clock says ${shown(nowMs)}, which is before the newest entry came in (${shown(last?.receivedMs ?? earliestMs)}). Set it right; nothing is saved until then.`,
  };
}

async function isAccepted(query: Query, seq: number): Promise<boolean> {
  const rows = await query.all(sql`
    SELECT 1 FROM upkeep_event
    WHERE kind = 'clock accepted' AND json_extract(detail, '$.seq') = ${seq} LIMIT 1`);
  return rows.length > 0;
}

/** When an entry counts as received: after the one before it, unless the clock was set back. */
export function receivedAfter(nowMs: number, lastReceivedMs: number): number {
  return nowMs < lastReceivedMs - clockToleranceMs ? nowMs : Math.max(nowMs, lastReceivedMs + 1);
}
