import { expect, test } from 'vitest';
import { centralDifferences } from '#shared/science/centralDifferences.ts';

test('centralDifferences(predict)(parameters) gives one row a prediction, one column a parameter', () => {
  const slopes = centralDifferences(([a = NaN, k = NaN]) => [a * Math.exp(-k), a * k], [1, 1]);
  const [first, second] = slopes([2, 0.5]);
  expect(first?.[0]).toBeCloseTo(Math.exp(-0.5), 9);
  expect(first?.[1]).toBeCloseTo(-2 * Math.exp(-0.5), 9);
  expect(second).toHaveLength(2);
  expect(second?.[0]).toBeCloseTo(0.5, 9);
  expect(second?.[1]).toBeCloseTo(2, 9);
});

test('centralDifferences(predict, typical) steps from a parameter that is exactly zero', () => {
  const slopes = centralDifferences(([a = NaN]) => [Math.sin(a)], [0.01]);
  expect(slopes([0])[0]?.[0]).toBeCloseTo(1, 9);
});
