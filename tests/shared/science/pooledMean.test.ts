import { expect, test } from 'vitest';
import { betweenVariance, pooledMean } from '#shared/science/pooledMean.ts';

// Eight schools, Rubin 1981; pooled values computed with R metafor 3.8-1.
const effects = [28, 8, -3, 7, -1, 1, 18, 12];
const variances = [15, 10, 16, 11, 9, 11, 10, 18].map((error) => error ** 2);

test('the eight schools pool to 7.69 and do not differ', () => {
  const { mean, standardError, q } = pooledMean(effects, variances);
  expect(mean.toFixed(4)).toBe('7.6856');
  expect(standardError.toFixed(4)).toBe('4.0719');
  expect(q.toFixed(4)).toBe('4.7071');
  expect(betweenVariance(effects, variances)).toBe(0);
});

test.each([
  [5, 7.85098323390138],
  [10, 8.12647218557157],
])('a spread of %f between schools moves the mean to %f', (tau, mean) => {
  expect(pooledMean(effects, variances, tau ** 2).mean).toBeCloseTo(mean, 11);
});

test('a spread of 5 between schools widens the standard error', () => {
  expect(pooledMean(effects, variances, 25).standardError).toBeCloseTo(4.49209642570888, 11);
});

// Equal variances: tau^2 is the sample variance less the error variance.
test('betweenVariance(…) of equal errors is what the sample shows beyond them', () => {
  expect(betweenVariance([1, 2, 3, 6], [0.5, 0.5, 0.5, 0.5])).toBeCloseTo(14 / 3 - 0.5, 12);
  expect(betweenVariance([4], [1])).toBe(0);
});

test('pooledMean(…) refuses estimates without an error of their own', () => {
  expect(() => pooledMean([], [])).toThrow(RangeError);
  expect(() => pooledMean([1, 2], [1])).toThrow('variances must be > 0, one for each value');
  expect(() => pooledMean([1], [0])).toThrow(RangeError);
  expect(() => pooledMean([Number.NaN], [1])).toThrow(RangeError);
  expect(() => pooledMean([1], [1], -1)).toThrow(RangeError);
});
