import { expect, test } from 'vitest';
import { inverseOfSymmetric, solveSymmetric } from '#shared/science/symmetricMatrix.ts';

// The Hilbert matrix has an inverse of whole numbers; order 3 and 4 are in every textbook.
const hilbert = (n: number) =>
  Array.from({ length: n }, (_, i) => Array.from({ length: n }, (_row, j) => 1 / (i + j + 1)));

test('inverseOfSymmetric(matrix) gives the whole-number inverse of a Hilbert matrix', () => {
  const exact = [
    [16, -120, 240, -140],
    [-120, 1200, -2700, 1680],
    [240, -2700, 6480, -4200],
    [-140, 1680, -4200, 2800],
  ];
  const inverse = inverseOfSymmetric(hilbert(4));
  for (const [i, row] of exact.entries()) {
    for (const [j, value] of row.entries()) expect(inverse?.[i]?.[j]).toBeCloseTo(value, 7);
  }
});

test('inverseOfSymmetric(matrix) is undefined for a singular or indefinite matrix', () => {
  expect(
    inverseOfSymmetric([
      [1, 2],
      [2, 4],
    ]),
  ).toBe(undefined);
  expect(
    inverseOfSymmetric([
      [1, 2],
      [2, 1],
    ]),
  ).toBe(undefined);
  expect(inverseOfSymmetric([[0]])).toBe(undefined);
  expect(inverseOfSymmetric([[NaN]])).toBe(undefined);
});

test('solveSymmetric(matrix, right) keeps unknowns of very different size apart', () => {
  const solution = solveSymmetric(
    [
      [1e20, 1e10],
      [1e10, 4],
    ],
    [1e20 + 2e10, 1e10 + 8],
  );
  expect(solution?.[0]).toBeCloseTo(1, 9);
  expect(solution?.[1]).toBeCloseTo(2, 9);
});
