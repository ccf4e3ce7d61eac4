import { expect, test } from 'vitest';
import { lnIncompleteBeta, startingLogit } from '#shared/science/incompleteBeta.ts';

test('the uniform distribution is the beta of 1 and 1', () => {
  for (const x of [1e-12, 0.2, 0.5, 0.9]) {
    expect(lnIncompleteBeta(x, 1 - x, 1, 1).lnLower).toBeCloseTo(Math.log(x), 12);
  }
});

// I_x(a, 1) = x^a, far below what a double could hold before its logarithm is taken.
test('lnIncompleteBeta(…) keeps tails that would vanish', () => {
  expect(lnIncompleteBeta(1e-10, 1 - 1e-10, 100, 1).lnLower).toBeCloseTo(100 * Math.log(1e-10), 8);
  expect(lnIncompleteBeta(0, 1, 2, 3).lnLower).toBe(-Infinity);
  expect(lnIncompleteBeta(1, 0, 2, 3).lnLower).toBe(0);
});

test('startingLogit(p, a, b) lies near or below the root it starts for', () => {
  // I_x(3, 1) = x^3 = 0.125 at x = 1/2, whose logit is 0.
  const start = startingLogit(0.125, 3, 1);
  expect(Math.abs(start)).toBeLessThan(0.5);
  // I_x(1/2, 1) = sqrt(x) = 0.1 at x = 0.01.
  expect(startingLogit(0.1, 0.5, 1)).toBeLessThanOrEqual(Math.log(0.01 / 0.99));
});

test('lnIncompleteBeta(…) refuses shapes that are not above 0', () => {
  expect(() => lnIncompleteBeta(0.5, 0.5, 0, 1)).toThrow('a must be > 0, got 0');
  expect(() => lnIncompleteBeta(0.5, 0.5, 1, Number.NaN)).toThrow(RangeError);
});
