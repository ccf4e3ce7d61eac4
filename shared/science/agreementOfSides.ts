import { regularisedBeta } from './betaFunctions.ts';
import { normalCdf } from './normal.ts';
import { exactProportionInterval } from './proportionInterval.ts';
import { requireCount, requireNotNegative, requirePositive } from './refusal.ts';

/** Chance of two sides this far apart below which one of them is to be filled again: as for clumping. */
const SIDES_DISAGREE_BELOW_P = 0.01;

export type SideAgreement = {
  ratio: number;
  low: number;
  high: number;
  pValue: number;
  disagree: boolean;
};

/**
 * Test of whether two sides of a chamber show the same concentration.
 *
 *   given a + b, a is binomial with chance areaA / (areaA + areaB); twice the smaller tail.
 *   With a filling error s: z = |ln(ratio)| / sqrt(1/a + 1/b + 2 s^2)
 *
 * @param countsA  cells on the first side in all [cells], whole, >= 0
 * @param areaA  area or volume counted there [any unit, the same as areaB], > 0
 * @param countsB  cells on the second side in all [cells], whole, >= 0
 * @param areaB  area or volume counted there [as areaA], > 0
 * @param fillingCv  error of one filling as a fraction [-], >= 0; 0 tests against chance alone
 * @returns ratio of the concentrations with its exact 95 % limits from counting alone, the chance and
 *   the verdict; undefined with no cells
 * @throws RangeError outside the bounds above
 *
 * Source: [PrzyborowskiWilenski1940], from memory.
 */
export function agreementOfSides(
  countsA: number,
  areaA: number,
  countsB: number,
  areaB: number,
  fillingCv = 0,
): SideAgreement | undefined {
  requireCount('agreementOfSides', 'countsA', countsA);
  requireCount('agreementOfSides', 'countsB', countsB);
  requirePositive('agreementOfSides', 'areaA', areaA);
  requirePositive('agreementOfSides', 'areaB', areaB);
  requireNotNegative('agreementOfSides', 'fillingCv', fillingCv);
  const total = countsA + countsB;
  if (total === 0) return undefined;
  const ratio = countsB === 0 ? Infinity : countsA / areaA / (countsB / areaB);
  const share = exactProportionInterval(countsA, total);
  const ratioOfShare = (p: number) => ((p / (1 - p)) * areaB) / areaA;
  const pValue =
    fillingCv > 0 && countsA > 0 && countsB > 0
      ? 2 *
        normalCdf(
          -Math.abs(Math.log(ratio)) / Math.sqrt(1 / countsA + 1 / countsB + 2 * fillingCv ** 2),
        )
      : exactP(countsA, countsB, areaA / (areaA + areaB));
  return {
    ratio,
    low: ratioOfShare(share.low),
    high: ratioOfShare(share.high),
    pValue,
    disagree: pValue < SIDES_DISAGREE_BELOW_P,
  };
}

function exactP(countsA: number, countsB: number, chance: number): number {
  const atMost = countsB === 0 ? 1 : regularisedBeta(1 - chance, countsB, countsA + 1);
  const atLeast = countsA === 0 ? 1 : regularisedBeta(chance, countsA, countsB + 1);
  return Math.min(1, 2 * Math.min(atMost, atLeast));
}
