import {
  type CellCount,
  checkCount,
  dilutionShares,
  errorsOf,
  fillingCv,
  stepsOf,
} from './countSetup.ts';
import { type Dispersion, pooledDispersion } from './dispersion.ts';

export type BudgetPart = {
  part: 'counting' | 'chamber' | 'pipetting' | 'between fillings';
  relativeVariance: number;
};

export type CountParts = {
  cells: number;
  squares: number;
  /** Sample that the cells were counted in [mL], one for each filling. */
  sampleMl: number[];
  totalMl: number;
  dispersion: Dispersion | undefined;
  inflation: number;
  /** Relative variances besides counting. */
  otherParts: BudgetPart[];
};

/**
 * Cells, sample volume and every relative variance besides counting of a chamber count.
 *
 *   chamber = s_c^2 sum w_i^2, pipetting = steps s_p^2 sum W_g^2, with w_i the share of a filling and
 *   W_g of a dilution in the sample counted; between fillings = what they differ beyond these
 *
 * @param count  squares, dilutions and chamber, as cellConcentration takes them
 * @returns the parts [cells, mL, -]
 * @throws RangeError for counts that are not whole, volumes <= 0, dilutions < 1 or no square
 *
 * A count that is clumped weighs as cells / (X^2 / df); one that is not is left at chance, since
 * inflating every count by its own noise would widen most of them for nothing.
 * Source: [BerksonMagathHurn1939], from memory; the spread between fillings as [DerSimonianLaird1986].
 */
export function countParts(count: CellCount): CountParts {
  checkCount(count);
  const { fillings, countingOnly = false } = count;
  const squareMl = count.squareAreaMm2 * count.depthMm * 1e-3;
  const sampleMl = fillings.map((f) => (f.squares.length * squareMl) / f.dilutionFactor);
  const totalMl = sum(sampleMl);
  const cellsIn = fillings.map((filling) => sum(filling.squares));
  const dispersion = pooledDispersion(fillings.map((filling) => filling.squares));
  const inflation =
    dispersion?.clumped && !countingOnly ? dispersion.statistic / dispersion.degreesOfFreedom : 1;
  const shares = sampleMl.map((volume) => volume / totalMl);
  const parts = { cells: sum(cellsIn), squares: sum(fillings.map((f) => f.squares.length)) };
  return {
    ...parts,
    sampleMl,
    totalMl,
    dispersion,
    inflation,
    otherParts: countingOnly ? [] : otherParts(count, shares, cellsIn, inflation),
  };
}

function otherParts(
  count: CellCount,
  shares: number[],
  cellsIn: number[],
  inflation: number,
): BudgetPart[] {
  const { chamberCv, pipettingCv } = errorsOf(count);
  const fillingWeight = sumOfSquares(shares);
  const parts: BudgetPart[] = [
    { part: 'chamber', relativeVariance: chamberCv ** 2 * fillingWeight },
    {
      part: 'pipetting',
      relativeVariance:
        stepsOf(count) * pipettingCv ** 2 * sumOfSquares(dilutionShares(count, shares)),
    },
  ];
  const beyond = varianceBetween(shares, cellsIn, inflation) - fillingCv(count) ** 2;
  if (beyond > 0) {
    parts.push({ part: 'between fillings', relativeVariance: beyond * fillingWeight });
  }
  return parts;
}

/** Relative variance between fillings beyond counting, by moments; 0 with one filling. */
function varianceBetween(shares: number[], cellsIn: number[], inflation: number): number {
  const cells = sum(cellsIn);
  const freedom = shares.length - 1;
  if (freedom === 0 || cells === 0) return 0;
  const expected = shares.map((share) => share * cells);
  const q = sum(cellsIn.map((found, i) => (found - (expected[i] ?? 0)) ** 2 / (expected[i] ?? 1)));
  return (q - freedom * inflation) / (cells * (1 - sumOfSquares(shares)));
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function sumOfSquares(values: readonly number[]): number {
  return values.reduce((total, value) => total + value * value, 0);
}
