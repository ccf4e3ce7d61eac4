import { CHAMBER_CV, PIPETTING_CV } from './countSetup.ts';
import { logNormalSum } from './logNormalSum.ts';
import {
  type LotVariances,
  lotContribution,
  type PitchLot,
  variancesOf,
} from './lotContribution.ts';
import { Z_95 } from './normal.ts';
import { CELLS_TO_STAIN } from './viability.ts';

export type Narrowing = {
  measurement: 'count' | 'stain' | 'storage' | 'second chamber';
  lotId: string;
  fromPercent: number;
  toPercent: number;
};

/** Cells of the further count or stain that is offered: an ordinary one. */
const FURTHER_CELLS = CELLS_TO_STAIN;

/**
 * What one more measurement would do to the range of a pitch, the most useful first.
 *
 *   half-width = 100 (exp(1.96 s) - 1) % of the cells pitched, with one variance of one lot changed:
 *   another count or stain of 400 cells joins the first by 1/v = 1/v1 + 1/v2; a stain today replaces
 *   the loss reckoned in store; a second chamber halves the error of filling
 *
 * @param lots  as viableCellsPerUnit takes them, each with its id
 * @param amounts  amount of each [L or kg], >= 0
 * @returns half-widths now and then [%], only those that get smaller
 * @throws RangeError outside the bounds above
 *
 * Source: derived, with the errors of [BerksonMagathHurn1939], from memory.
 */
export function pitchNarrowing(
  lots: readonly (PitchLot & { id: string })[],
  amounts: readonly number[],
): Narrowing[] {
  const variances = lots.map(variancesOf);
  const fromPercent = halfWidthPercent(lots, amounts, variances);
  return lots
    .flatMap((lot, index) =>
      furtherMeasurements(lot).map(({ measurement, after }) => ({
        measurement,
        lotId: lot.id,
        fromPercent,
        toPercent: halfWidthPercent(lots, amounts, variances.with(index, after)),
      })),
    )
    .filter(({ toPercent }) => toPercent < fromPercent)
    .sort((one, other) => one.toPercent - other.toPercent);
}

function furtherMeasurements(lot: PitchLot) {
  const now = variancesOf(lot);
  const found: { measurement: Narrowing['measurement']; after: LotVariances }[] = [];
  const further = (measurement: Narrowing['measurement'], change: Partial<LotVariances>) =>
    found.push({ measurement, after: { ...now, ...change } });
  const countVariance = 1 / FURTHER_CELLS + CHAMBER_CV ** 2 + PIPETTING_CV ** 2;
  further('count', { concentration: joined(now.concentration, countVariance) });
  if ((lot.counted ?? true) && now.concentration > CHAMBER_CV ** 2) {
    further('second chamber', { concentration: now.concentration - CHAMBER_CV ** 2 / 2 });
  }
  // The same kind of stain again would again tell only the most.
  if (lot.viabilityAtMost === true) return found;
  const alive = lot.viability * (lot.survival ?? 1);
  const stainVariance = (1 - alive) / (alive * FURTHER_CELLS);
  const staining = joined(now.viability + now.survival, stainVariance);
  further(now.survival > 0 ? 'storage' : 'stain', { viability: staining, survival: 0 });
  return found;
}

function joined(one: number, other: number): number {
  return one === 0 || other === 0 ? 0 : 1 / (1 / one + 1 / other);
}

function halfWidthPercent(
  lots: readonly PitchLot[],
  amounts: readonly number[],
  variances: readonly LotVariances[],
): number {
  const { logSd } = logNormalSum(
    lots.map((lot, index) => {
      const { concentration = 0, viability = 0, survival = 0 } = variances[index] ?? {};
      const { median } = lotContribution(lot, amounts[index] ?? 0);
      return { median, logSd: Math.sqrt(concentration + viability + survival) };
    }),
  );
  return 100 * Math.expm1(Z_95 * logSd);
}
