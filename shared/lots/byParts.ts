import { blendOf } from '#shared/science/blend.ts';
import type { LossRate } from '#shared/science/lossRate.ts';
import { equivalentDays, predictedViability } from '#shared/science/storage.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Ranged } from '#shared/views/recorded.ts';
import { firstFallback, knownLot } from './knownLot.ts';
import type { LotEvidence } from './lotStanding.ts';
import { storageHistory } from './storageHistory.ts';

/** A lot that went into a blend, as it stood then, and how much of it [L or kg]. */
export type BlendedLot = { standing: LotStanding; amount: number };

export type LotByParts = {
  at: string;
  /** Cells, dead and alive, per mL or per g. */
  cellsPer: Ranged;
  cellsLogSd: number;
  /** Share alive when it was blended. */
  percent: Ranged;
  percentLogSd: number;
  /** True when the share alive is only the most it can be. */
  atMost: boolean;
  predictedNow: Ranged & { equivalentDays: number };
  parts: { code: string; amount: number; isCounted: boolean; isStained: boolean }[];
};

/** Whether a lot's own count and stain tell what it holds. */
export const isTested = ({ counts, stains }: Pick<LotEvidence, 'counts' | 'stains'>) =>
  counts.length > 0 && stains.length > 0;

/** What had been written of a lot by a moment. */
export function asOf(evidence: LotEvidence, atMs: number): LotEvidence {
  const before = <T extends { happenedAt: string }>(written: readonly T[]) =>
    written.filter(({ happenedAt }) => Date.parse(happenedAt) <= atMs);
  const { counts, stains, storeReadings } = evidence;
  return {
    ...evidence,
    counts: before(counts),
    stains: before(stains),
    storeReadings: before(storeReadings),
  };
}

/**
 * What a blend that was not counted or stained holds, by the lots in it, carried to now.
 *
 * Where a lot in it was not counted either, its usual figure stands in, as for a pitch. Null for
 * what is no blend, was tested itself, holds a lot with nothing alive, or both litres and kilograms.
 */
export function byParts(
  evidence: LotEvidence,
  { nowMs, rate }: { nowMs: number; rate: LossRate },
): LotByParts | null {
  const { blended = [], storeReadings, strain } = evidence;
  const { happenedAt: at } = evidence.first ?? evidence.record;
  if (blended.length === 0 || isTested(evidence)) return null;
  const known = blended.flatMap(({ standing, amount }) => {
    const lot = knownLot(standing, firstFallback(standing), undefined);
    return 'unusable' in lot ? [] : [{ lot, amount }];
  });
  const areAlike = known.every(({ lot }) => lot.pitchLot.unit === known[0]?.lot.pitchLot.unit);
  if (known.length < blended.length || !areAlike) return null;
  const blend = blendOf(known.map(({ lot, amount }) => ({ ...lot.pitchLot, amount })));
  const percent = inPercent(blend.viability);
  const history = storageHistory(storeReadings, strain, { fromMs: Date.parse(at), toMs: nowMs });
  const { low, high } = percent;
  const then = predictedViability({ percent: percent.value, low, high }, history, rate);
  return {
    at,
    cellsPer: blend.cellsPer,
    cellsLogSd: blend.cellsLogSd,
    percent,
    percentLogSd: blend.viabilityLogSd,
    atMost: blend.viabilityAtMost,
    predictedNow: {
      ...{ value: then.percent, low: then.low, high: then.high },
      equivalentDays: equivalentDays(history),
    },
    parts: known.map(({ lot, amount }) => ({
      ...{ code: lot.standing.code, amount },
      isCounted: lot.density.counted,
      isStained: lot.isStained,
    })),
  };
}

const inPercent = ({ value, low, high }: Ranged): Ranged => ({
  value: 100 * value,
  low: 100 * low,
  high: 100 * high,
});
