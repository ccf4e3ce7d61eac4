import { expect, test } from 'vitest';
import { normalEquations, weightedSquares } from '#shared/science/normalEquations.ts';

test("normalEquations(jacobian, residuals, weights) is J'WJ and J'Wr, worked by hand", () => {
  const { normal, gradient } = normalEquations(
    [
      [1, 2],
      [1, 3],
    ],
    [10, 20],
    [1, 2],
  );
  expect(normal).toEqual([
    [3, 8],
    [8, 22],
  ]);
  expect(gradient).toEqual([50, 140]);
});

test('normalEquations(jacobian, residuals, weights) refuses lists of unlike length', () => {
  expect(() => normalEquations([[1], [1]], [1], [1, 1])).toThrow(RangeError);
});

test('weightedSquares(values, weights) sums the weighted squares', () => {
  expect(weightedSquares([1, 2, 3], [1, 1, 0.5])).toBe(9.5);
});
