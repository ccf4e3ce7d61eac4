import { valueAt } from './valueAt.ts';

type Matrix = readonly (readonly number[])[];

/** Below this share of its own diagonal a pivot is rounding error: the column depends on the others. */
const SMALLEST_PIVOT = 1e-14;

/**
 * Inverse of a symmetric positive definite matrix.
 *
 *   A = D C D with unit diagonal in C;  C = L L';  A^-1 = D^-1 C^-1 D^-1
 *
 * @param matrix  symmetric, only its lower triangle is read [any unit]
 * @returns the inverse, or undefined when the matrix is not positive definite to working precision
 * @throws RangeError when the matrix is not square
 *
 * Scaling first keeps parameters of very different size apart. Source: [GolubVanLoan1996], 4.2.
 */
export function inverseOfSymmetric(matrix: Matrix): number[][] | undefined {
  const columns = matrix.map((_, j) =>
    solveSymmetric(
      matrix,
      matrix.map((_row, i) => (i === j ? 1 : 0)),
    ),
  );
  const inverse: number[][] = [];
  for (const column of columns) {
    if (column === undefined) return undefined;
    inverse.push(column);
  }
  return inverse;
}

/**
 * Solution x of A x = b for a symmetric positive definite matrix A.
 *
 *   scaled Cholesky factor, then forward and back substitution
 *
 * @param matrix  symmetric, only its lower triangle is read [any unit]
 * @param right  right-hand side b
 * @returns x, or undefined when the matrix is not positive definite to working precision
 * @throws RangeError when the shapes do not fit
 *
 * Source: [GolubVanLoan1996], 4.2.
 */
export function solveSymmetric(matrix: Matrix, right: readonly number[]): number[] | undefined {
  const scale = matrix.map((row, i) => Math.sqrt(valueAt(row, i)));
  if (!scale.every((size) => size > 0 && size < Infinity)) return undefined;
  const factor = choleskyFactor(matrix, scale);
  if (factor === undefined) return undefined;
  const forward: number[] = [];
  for (const [i, row] of factor.entries()) {
    let sum = valueAt(right, i) / valueAt(scale, i);
    for (let k = 0; k < i; k++) sum -= valueAt(row, k) * valueAt(forward, k);
    forward.push(sum / valueAt(row, i));
  }
  const solution = [...forward];
  for (let i = solution.length - 1; i >= 0; i--) {
    let sum = valueAt(solution, i);
    for (let k = i + 1; k < solution.length; k++) {
      sum -= valueAt(valueAt(factor, k), i) * valueAt(solution, k);
    }
    solution[i] = sum / valueAt(valueAt(factor, i), i);
  }
  return solution.map((value, i) => value / valueAt(scale, i));
}

function choleskyFactor(matrix: Matrix, scale: readonly number[]): number[][] | undefined {
  const factor: number[][] = [];
  for (const [i, row] of matrix.entries()) {
    const line: number[] = [];
    for (let j = 0; j <= i; j++) {
      let sum = valueAt(row, j) / (valueAt(scale, i) * valueAt(scale, j));
      const other = j === i ? line : valueAt(factor, j);
      for (let k = 0; k < j; k++) sum -= valueAt(line, k) * valueAt(other, k);
      if (j < i) line.push(sum / valueAt(other, j));
      else if (sum > SMALLEST_PIVOT) line.push(Math.sqrt(sum));
      else return undefined;
    }
    factor.push(line);
  }
  return factor;
}
