import type { LogNormal } from './logNormalSum.ts';
import { refuse, requireNotNegative, requirePositive, requireShare } from './refusal.ts';

export type PitchLot = {
  id?: string | undefined;
  unit: 'L' | 'kg';
  /** All cells, alive and dead: per mL for a lot in litres, per g for one in kilograms. */
  cellsPerMl?: number | undefined;
  cellsPerG?: number | undefined;
  concentrationLogSd: number;
  /** False when the concentration is a fallback and not a count. */
  counted?: boolean | undefined;
  /** Share alive when it was stained, 0 to 1. */
  viability: number;
  viabilityLogSd: number;
  /** True when the stain can only tell that no more than this is alive. */
  viabilityAtMost?: boolean | undefined;
  /** Share of those expected to have survived since, 0 to 1. */
  survival?: number | undefined;
  survivalLogSd?: number | undefined;
  /** What is left of the lot [L or kg]. */
  available?: number | undefined;
  /** Amount the brewer has fixed [L or kg]. */
  use?: number | undefined;
};

/** Relative variance of each thing known about a lot [-]. */
export type LotVariances = { concentration: number; viability: number; survival: number };

/**
 * Living cells in one litre or kilogram of a lot, with their spread.
 *
 *   1000 c v s, ln-variances added
 *
 * @param lot  c [cells/mL or cells/g] > 0, v and s [-] above 0 to 1, logSds [-] >= 0
 * @returns median [cells/L or cells/kg] and standard deviation of its logarithm [-]
 * @throws RangeError outside the bounds above
 *
 * Takes the count as made on the same mixed slurry, so that trub is already left out.
 * Source: derived.
 */
export function viableCellsPerUnit(lot: PitchLot): LogNormal {
  const name = 'viableCellsPerUnit';
  const cells = lot.unit === 'L' ? lot.cellsPerMl : lot.cellsPerG;
  if (cells === undefined) {
    return refuse(name, `a lot in ${lot.unit} must give its cells per mL or per g`, cells);
  }
  requirePositive(name, lot.unit === 'L' ? 'cellsPerMl' : 'cellsPerG', cells);
  requireShare(name, 'viability', lot.viability);
  requireShare(name, 'survival', lot.survival ?? 1);
  const { concentration, viability, survival } = variancesOf(lot);
  return {
    median: 1000 * cells * lot.viability * (lot.survival ?? 1),
    logSd: Math.sqrt(concentration + viability + survival),
  };
}

/**
 * Living cells that an amount of a lot brings into the wort.
 *
 *   amount 1000 c v s
 *
 * @param lot  as viableCellsPerUnit takes it
 * @param amount  [L or kg, the unit of the lot], >= 0
 * @returns median [cells] and standard deviation of its logarithm [-]
 * @throws RangeError outside the bounds above
 *
 * Takes the amount as measured exactly. Source: derived.
 */
export function lotContribution(lot: PitchLot, amount: number): LogNormal {
  requireNotNegative('lotContribution', 'amount', amount);
  const { median, logSd } = viableCellsPerUnit(lot);
  return { median: amount * median, logSd };
}

/**
 * Whether any yeast that really goes in is known only by the most that can be alive in it.
 *
 * @param lots  as viableCellsPerUnit takes them
 * @param amounts  amount of each [L or kg]
 * @returns true when what they bring is an upper limit
 *
 * Source: derived.
 */
export function bringsAtMost(lots: readonly PitchLot[], amounts: readonly number[]): boolean {
  return lots.some((lot, index) => lot.viabilityAtMost === true && (amounts[index] ?? 0) > 0);
}

/**
 * The variances that a lot brings, apart.
 *
 * @param lot  as viableCellsPerUnit takes it
 * @returns squares of its three logSds [-]
 * @throws RangeError when one is below 0
 *
 * Source: derived.
 */
export function variancesOf(lot: PitchLot): LotVariances {
  const survivalLogSd = lot.survivalLogSd ?? 0;
  requireNotNegative('variancesOf', 'concentrationLogSd', lot.concentrationLogSd);
  requireNotNegative('variancesOf', 'viabilityLogSd', lot.viabilityLogSd);
  requireNotNegative('variancesOf', 'survivalLogSd', survivalLogSd);
  return {
    concentration: lot.concentrationLogSd ** 2,
    viability: lot.viabilityLogSd ** 2,
    survival: survivalLogSd ** 2,
  };
}
