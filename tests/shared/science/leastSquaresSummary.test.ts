import { expect, test } from 'vitest';
import { summaryOfFit } from '#shared/science/leastSquaresSummary.ts';

test('summaryOfFit(end) of a mean gives the textbook standard error s / sqrt(n)', () => {
  const observed = [2, 4, 6, 8];
  const fit = summaryOfFit({
    observed,
    weights: [1, 1, 1, 1],
    parameters: [5],
    residuals: observed.map((y) => y - 5),
    jacobian: observed.map(() => [1]),
    converged: true,
    iterations: 1,
  });
  expect(fit.residualSd).toBeCloseTo(Math.sqrt(20 / 3), 12);
  expect(fit.standardErrors[0]).toBeCloseTo(Math.sqrt(20 / 3) / 2, 12);
  expect(fit.rSquared).toBe(0);
});
