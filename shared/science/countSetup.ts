import { refuse, requireCount, requireNotNegative, requirePositive } from './refusal.ts';

type Filling = {
  squares: readonly number[];
  dilutionFactor: number;
  /** Index of the independent dilution it was drawn from; the same one when left out. */
  dilution?: number | undefined;
};

export type CellCount = {
  fillings: readonly Filling[];
  squareAreaMm2: number;
  depthMm: number;
  errors?: { chamberCv: number; pipettingCv: number } | undefined;
  /** Volumes measured one after the other for each dilution; 1, or 0 when undiluted. */
  pipettingSteps?: number | undefined;
  /** True leaves all but chance out: the bare interval of the count. */
  countingOnly?: boolean | undefined;
};

/** Relative error of filling a chamber once [-]. Source: [BerksonMagathHurn1939], from memory. */
export const CHAMBER_CV = 0.046;
/** Relative error of one pipetting [-]. Source: [BerksonMagathHurn1939], from memory. */
export const PIPETTING_CV = 0.047;

/**
 * Relative standard deviation by which one filling may differ from another of the same count.
 *
 *   sqrt(s_c^2 + steps s_p^2), the second term only when each has its own dilution
 *
 * @param count  as cellConcentration takes it
 * @returns the error of one filling [-]
 *
 * Source: [BerksonMagathHurn1939], from memory.
 */
export function fillingCv(count: CellCount): number {
  const { chamberCv, pipettingCv } = errorsOf(count);
  const apart =
    dilutionShares(
      count,
      count.fillings.map(() => 1),
    ).length > 1;
  return Math.sqrt(chamberCv ** 2 + (apart ? stepsOf(count) * pipettingCv ** 2 : 0));
}

/** Share of the sample counted that each independent dilution carries [-], summed from that of each filling. */
export function dilutionShares(count: CellCount, shares: number[]): number[] {
  const byDilution = new Map<number, number>();
  count.fillings.forEach(({ dilution = 0 }, i) => {
    byDilution.set(dilution, (byDilution.get(dilution) ?? 0) + (shares[i] ?? 0));
  });
  return [...byDilution.values()];
}

/** The errors in force [-]: the ones given, or the remembered ones. */
export function errorsOf({
  errors = { chamberCv: CHAMBER_CV, pipettingCv: PIPETTING_CV },
}: CellCount) {
  return errors;
}

/** Volumes measured in a row for one dilution: 0 when undiluted, else 1 where not said. */
export function stepsOf(count: CellCount): number {
  return count.pipettingSteps ?? (count.fillings.some((f) => f.dilutionFactor > 1) ? 1 : 0);
}

/**
 * Refuses a count whose squares, dilutions or chamber cannot be.
 * @throws RangeError outside the bounds of cellConcentration
 */
export function checkCount(count: CellCount): void {
  const name = 'cellConcentration';
  requirePositive(name, 'squareAreaMm2', count.squareAreaMm2);
  requirePositive(name, 'depthMm', count.depthMm);
  requireNotNegative(name, 'chamberCv', errorsOf(count).chamberCv);
  requireNotNegative(name, 'pipettingCv', errorsOf(count).pipettingCv);
  requireNotNegative(name, 'pipettingSteps', stepsOf(count));
  if (count.fillings.length === 0) refuse(name, 'fillings must hold at least one', 0);
  for (const { squares, dilutionFactor } of count.fillings) {
    if (squares.length === 0) refuse(name, 'squares must hold at least one', 0);
    for (const cells of squares) requireCount(name, 'squares', cells);
    if (!(dilutionFactor >= 1 && dilutionFactor < Infinity)) {
      refuse(name, 'dilutionFactor must be >= 1', dilutionFactor);
    }
  }
}
