import { valueAt } from './valueAt.ts';

/**
 * Normal matrix and right-hand side of a weighted least-squares step.
 *
 *   A = J'WJ, g = J'Wr
 *
 * @param jacobian  one row per observation, one column per parameter
 * @param residuals  observed less predicted
 * @param weights  one for each observation, > 0
 * @returns the matrix A and the vector g
 * @throws RangeError when the lists differ in length
 *
 * Source: [BatesWatts1988], 2.2.
 */
export function normalEquations(
  jacobian: readonly (readonly number[])[],
  residuals: readonly number[],
  weights: readonly number[],
): { normal: number[][]; gradient: number[] } {
  const size = valueAt(jacobian, 0).length;
  const normal = Array.from({ length: size }, () => new Array<number>(size).fill(0));
  const gradient = new Array<number>(size).fill(0);
  for (const [i, row] of jacobian.entries()) {
    const weight = valueAt(weights, i);
    for (const [j, slope] of row.entries()) {
      gradient[j] = valueAt(gradient, j) + weight * slope * valueAt(residuals, i);
      const line = valueAt(normal, j);
      for (const [k, other] of row.entries()) line[k] = valueAt(line, k) + weight * slope * other;
    }
  }
  return { normal, gradient };
}

/**
 * Weighted sum of squares of a list.
 *
 *   S = sum of w x^2
 *
 * @param values  any numbers
 * @param weights  one for each value
 * @returns the sum
 * @throws RangeError when the weights are too few
 *
 * Source: definition.
 */
export function weightedSquares(values: readonly number[], weights: readonly number[]): number {
  return values.reduce((sum, value, i) => sum + valueAt(weights, i) * value * value, 0);
}
