import { expect, test } from 'vitest';
import { linearFit, slopeInterval } from '#shared/science/linearFit.ts';
import norris from '../../reference/nistNorris.json' with { type: 'json' };
import { relativeError } from '../../support/relativeError.ts';

const points = norris.data.map(([y = NaN, x = NaN]) => Object.freeze({ x, y }));

test('linearFit(points) meets the certified values of NIST Norris', () => {
  const fit = linearFit(points);
  const { certified, tolerance } = norris;
  expect(points).toHaveLength(36);
  expect(relativeError(fit.intercept, certified.intercept)).toBeLessThan(tolerance);
  expect(relativeError(fit.slope, certified.slope)).toBeLessThan(tolerance);
  for (const [found, value] of [
    [fit.interceptStandardError, certified.interceptStandardError],
    [fit.slopeStandardError, certified.slopeStandardError],
    [fit.residualSd, certified.residualSd],
    [fit.sumOfSquares, certified.sumOfSquares],
    [fit.rSquared, certified.rSquared],
  ] as const) {
    expect(relativeError(found, value)).toBeLessThan(tolerance);
  }
});

test('linearFit(points, weights) agrees with R on weighted Norris', () => {
  const fit = linearFit(
    points,
    points.map(({ x }) => 1 / Math.max(x, 1) ** 2),
  );
  const { weighted } = norris;
  expect(relativeError(fit.intercept, weighted.intercept)).toBeLessThan(1e-11);
  expect(relativeError(fit.slope, weighted.slope)).toBeLessThan(1e-12);
  expect(relativeError(fit.interceptStandardError, weighted.interceptStandardError)).toBeLessThan(
    1e-11,
  );
  expect(relativeError(fit.slopeStandardError, weighted.slopeStandardError)).toBeLessThan(1e-11);
  expect(relativeError(fit.sumOfSquares, weighted.sumOfSquares)).toBeLessThan(1e-11);
});

test('linearFit(points) agrees with the published decay of marine bacteria', () => {
  // Chatterjee and Price; printed: 5.97316 (.05978), -.218425 (.006575), s .110016, R2 98.8 %.
  const survivors = [355, 211, 197, 166, 142, 106, 104, 60, 56, 38, 36, 32, 21, 19, 15];
  const fit = linearFit(survivors.map((count, i) => ({ x: i + 1, y: Math.log(count) })));
  expect(fit.intercept).toBeCloseTo(5.97316, 5);
  expect(fit.interceptStandardError).toBeCloseTo(0.05978, 5);
  expect(fit.slope).toBeCloseTo(-0.218425, 6);
  expect(fit.slopeStandardError).toBeCloseTo(0.006575, 6);
  expect(fit.residualSd).toBeCloseTo(0.110016, 6);
  expect(fit.rSquared).toBeCloseTo(0.988, 3);
  // 95 % limits computed in R.
  const { low, high } = slopeInterval(fit);
  expect(low).toBeCloseTo(-0.23262906160605, 12);
  expect(high).toBeCloseTo(-0.204221448939545, 12);
});

test('linearFit(points) gives the covariance that a prediction needs', () => {
  const fit = linearFit([1, 2, 4].map((x) => ({ x, y: x * x })));
  // The variance of the line is least at the mean of x, 7 / 3.
  const turning = -fit.covariance / fit.slopeStandardError ** 2;
  expect(turning).toBeCloseTo(7 / 3, 12);
});

test('linearFit(points) refuses one x, too few points, and weights of zero', () => {
  const line = [1, 2, 3].map((x) => ({ x, y: x }));
  expect(() => linearFit(line.slice(1))).toThrow(/at least three/);
  expect(() => linearFit(line.map(({ y }) => ({ x: 1, y })))).toThrow(/not all be the same/);
  expect(() => linearFit(line, [1, 1, 0])).toThrow(/weights/);
  expect(() => linearFit([...line, { x: NaN, y: 1 }])).toThrow(/finite/);
});
