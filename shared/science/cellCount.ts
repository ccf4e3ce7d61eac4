import { agreementOfSides, type SideAgreement } from './agreementOfSides.ts';
import { type BudgetPart, countParts } from './countError.ts';
import { type CellCount, fillingCv } from './countSetup.ts';
import type { Dispersion } from './dispersion.ts';
import { Z_95 } from './normal.ts';
import { poissonIntervalOfWeight } from './poissonInterval.ts';
import { requirePositive } from './refusal.ts';

export type CellConcentration = {
  cellsPerMl: number;
  low: number;
  high: number;
  /** Standard deviation of the natural logarithm; undefined when no cell was found. */
  logSd: number | undefined;
  cellsCounted: number;
  squaresCounted: number;
  budget: BudgetPart[];
  dispersion: Dispersion | undefined;
  sides: SideAgreement | undefined;
};

/**
 * Concentration of cells in a sample from squares of a counting chamber, with its 95 % interval.
 *
 *   c = N / sum of [n_sq A d 1e-3 / DF];
 *   ln(c / low) = sqrt(ln(N / N_low)^2 + z^2 s^2), and the same upwards, with N_low and N_high exact
 *   Poisson limits and s^2 the chamber, pipetting and between-filling variances
 *
 * @param count  fillings with cells in each square [cells], dilution factors [-] >= 1, area of a
 *   square [mm²] > 0, depth [mm] > 0, errors as fractions [-] >= 0
 * @returns concentration [cells/mL] of all cells, alive and dead; with no cells 0, and as high the
 *   exact upper limit
 * @throws RangeError outside the bounds above
 *
 * Clumped squares (p < 0.01) count as N / (X^2 / df) independent cells; X^2 / df as in
 * indexOfDispersion. Source: [Student1907]; [Garwood1936]; [BerksonMagathHurn1939], from memory.
 */
export function cellConcentration(count: CellCount): CellConcentration {
  const parts = countParts(count);
  const { cells, totalMl, inflation, otherParts } = parts;
  const common = {
    cellsPerMl: cells / totalMl,
    cellsCounted: cells,
    squaresCounted: parts.squares,
    dispersion: parts.dispersion,
    sides: sidesOf(count, parts.sampleMl),
  };
  if (cells === 0) {
    const { high } = poissonIntervalOfWeight(0);
    return { ...common, low: 0, high: high / totalMl, logSd: undefined, budget: [] };
  }
  const budget: BudgetPart[] = [
    { part: 'counting', relativeVariance: inflation / cells },
    ...otherParts,
  ];
  const { down, up } = logDistances(cells / inflation, total(otherParts));
  return {
    ...common,
    low: common.cellsPerMl * Math.exp(-down),
    high: common.cellsPerMl * Math.exp(up),
    logSd: Math.sqrt(total(budget)),
    budget,
  };
}

/**
 * How many more cells must be counted, in the same fillings, to know a concentration to within a share.
 *
 *   fewest N with sqrt(ln(N_high / N)^2 + z^2 s^2) <= ln(1 + target), less the cells counted
 *
 * @param count  as cellConcentration takes it, with targetRelativeHalfWidth [-], > 0, 0.1 for 10 %
 * @returns further cells [cells], whole, 0 when already reached; undefined when the other errors alone
 *   exceed the target, so that only another chamber or dilution helps
 * @throws RangeError outside the bounds above
 *
 * Source: as cellConcentration.
 */
export function cellsForTarget(
  count: CellCount & { targetRelativeHalfWidth: number },
): number | undefined {
  requirePositive('cellsForTarget', 'targetRelativeHalfWidth', count.targetRelativeHalfWidth);
  const { cells, inflation, otherParts } = countParts(count);
  const widest = Math.log1p(count.targetRelativeHalfWidth);
  const others = total(otherParts);
  if (Z_95 ** 2 * others >= widest ** 2) return undefined;
  const reaches = (n: number) => n > 0 && logDistances(n / inflation, others).up <= widest;
  // Clumped cells weigh less than one each; below a weight of one no target is ever met.
  let tooFew = Math.ceil(inflation) - 1;
  let enough = tooFew + 1;
  while (!reaches(enough)) enough *= 2;
  while (enough - tooFew > 1) {
    const middle = Math.floor((enough + tooFew) / 2);
    if (reaches(middle)) enough = middle;
    else tooFew = middle;
  }
  return Math.max(0, enough - cells);
}

function logDistances(weight: number, otherVariance: number) {
  const { low, high } = poissonIntervalOfWeight(weight);
  const others = Z_95 ** 2 * otherVariance;
  return {
    down: Math.sqrt(Math.log(weight / low) ** 2 + others),
    up: Math.sqrt(Math.log(high / weight) ** 2 + others),
  };
}

function sidesOf(count: CellCount, sampleMl: number[]): SideAgreement | undefined {
  const [first, second, ...others] = count.fillings.map((filling, i) => ({
    cells: filling.squares.reduce((sum, cells) => sum + cells, 0),
    ml: sampleMl[i] ?? 0,
  }));
  if (!first || !second || others.length > 0) return undefined;
  const error = count.countingOnly ? 0 : fillingCv(count);
  return agreementOfSides(first.cells, first.ml, second.cells, second.ml, error);
}

function total(parts: readonly BudgetPart[]): number {
  return parts.reduce((sum, { relativeVariance }) => sum + relativeVariance, 0);
}
