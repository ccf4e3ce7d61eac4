import { chiSquareUpperTail } from './gammaFunctions.ts';
import { requireCount } from './refusal.ts';

/**
 * Chance of a spread between squares this wide under even mixing, below which cells are called clumped.
 * One in a hundred: a brewery that counts daily is sent to recount for nothing a few times a year.
 */
const CLUMPED_BELOW_P = 0.01;

export type Dispersion = {
  statistic: number;
  degreesOfFreedom: number;
  pValue: number;
  clumped: boolean;
};

/**
 * Test of whether the counts of equal squares spread more widely than chance alone allows.
 *
 *   X^2 = sum of (x - mean)^2 / mean on n - 1 degrees of freedom, upper tail
 *
 * @param counts  cells in each square [cells], whole, >= 0
 * @returns the test, or undefined with fewer than two squares or no cells
 * @throws RangeError outside the bounds above
 *
 * Valid for squares of one size in one filling. Source: [Student1907]; [Fisher1950].
 */
export function indexOfDispersion(counts: readonly number[]): Dispersion | undefined {
  return pooledDispersion([counts]);
}

/**
 * The same test over several fillings, each compared with its own mean.
 *
 *   X^2 and degrees of freedom summed over the fillings
 *
 * @param fillings  counts of equal squares for each filling [cells], whole, >= 0
 * @returns the test, or undefined when no filling has two squares and a cell
 * @throws RangeError outside the bounds above
 *
 * Source: [Fisher1950].
 */
export function pooledDispersion(fillings: readonly (readonly number[])[]): Dispersion | undefined {
  let statistic = 0;
  let degreesOfFreedom = 0;
  for (const counts of fillings) {
    for (const count of counts) requireCount('indexOfDispersion', 'counts', count);
    const mean = counts.reduce((sum, count) => sum + count, 0) / counts.length;
    if (!(counts.length > 1 && mean > 0)) continue;
    statistic += counts.reduce((sum, count) => sum + (count - mean) ** 2, 0) / mean;
    degreesOfFreedom += counts.length - 1;
  }
  if (degreesOfFreedom === 0) return undefined;
  const pValue = chiSquareUpperTail(statistic, degreesOfFreedom);
  return { statistic, degreesOfFreedom, pValue, clumped: pValue < CLUMPED_BELOW_P };
}
