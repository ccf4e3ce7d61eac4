import { washFindings } from '#shared/treatments/acidWash.ts';
import type { LotWash } from '#shared/views/lots.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import { hourMs } from '../durations.ts';

/** The last acid wash of a lot, timed from its end; null when it was never washed. */
export function lotWash(
  treatments: readonly Recorded<'treatment'>[],
  nowMs: number,
): LotWash | null {
  const wash = treatments.findLast(({ treatment }) => treatment === 'acid wash');
  if (wash === undefined) return null;
  return {
    recordId: wash.id,
    endedAt: wash.happenedAt,
    hoursSince: (nowMs - Date.parse(wash.happenedAt)) / hourMs,
    findings: washFindings(wash).map(({ text }) => text),
    override: wash.override ?? null,
  };
}
