import {
  type CellCount,
  checkCount,
  dilutionShares,
  errorsOf,
  fillingCv,
  stepsOf,
} from './countSetup.ts';
import { type Dispersion, pooledDispersion } from './dispersion.ts';
import { chiSquareUpperTail } from './gammaFunctions.ts';

export type BudgetPart = {
  part: 'counting' | 'chamber' | 'pipetting' | 'between fillings';
  relativeVariance: number;
};

/**
 * Chance of fillings this far apart, the assumed errors allowed for, below which their own spread is
 * taken instead. Taking it whenever it is larger would widen one count in three for nothing: simulated 95 % ranges
 * then covered 97 %.
 */
const FILLINGS_APART_BELOW_P = 0.05;

type CountParts = {
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
 *   W_g of a dilution in the sample counted; between fillings = what they differ beyond these, when
 *   chance and these errors do not explain it (p < 0.05)
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
  const beyond = varianceBeyond({ shares, cellsIn, inflation, cv: fillingCv(count) });
  if (beyond > 0) {
    parts.push({ part: 'between fillings', relativeVariance: beyond * fillingWeight });
  }
  return parts;
}

/** Relative variance between fillings beyond counting and the error of a filling, by moments. */
function varianceBeyond({
  shares,
  cellsIn,
  inflation,
  cv,
}: {
  shares: number[];
  cellsIn: number[];
  inflation: number;
  cv: number;
}): number {
  const cells = sum(cellsIn);
  const freedom = shares.length - 1;
  if (freedom === 0 || cells === 0) return 0;
  const misfits = cellsIn.map((found, i) => {
    const expected = (shares[i] ?? 0) * cells;
    return { expected, square: (found - expected) ** 2 };
  });
  const x2 = sum(misfits.map((m) => m.square / (m.expected * inflation + (m.expected * cv) ** 2)));
  if (chiSquareUpperTail(x2, freedom) >= FILLINGS_APART_BELOW_P) return 0;
  const q = sum(misfits.map((m) => m.square / m.expected));
  const between = (q - freedom * inflation) / (cells * (1 - sumOfSquares(shares)));
  return Math.max(0, between - cv ** 2);
}

function sum(values: readonly number[]): number {
  return values.reduce((total, value) => total + value, 0);
}

function sumOfSquares(values: readonly number[]): number {
  return values.reduce((total, value) => total + value * value, 0);
}
