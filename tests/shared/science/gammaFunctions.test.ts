import { expect, test } from 'vitest';
import {
  chiSquareQuantile,
  chiSquareUpperTail,
  gammaQuantile,
  lnGamma,
  regularisedGamma,
} from '#shared/science/gammaFunctions.ts';
import truth from '../../reference/quantileTruth.json' with { type: 'json' };
import { relativeError } from '../../support/relativeError.ts';

test('gammaQuantile(p, shape) agrees with 40-digit truth', () => {
  expect(truth.gamma).toHaveLength(112);
  for (const [shape = NaN, p = NaN, quantile = NaN] of truth.gamma) {
    expect(relativeError(gammaQuantile(p, shape), quantile)).toBeLessThan(truth.tolerance);
  }
});

test('chiSquareQuantile(p, df) agrees with 40-digit truth', () => {
  expect(truth.chisq).toHaveLength(136);
  for (const [df = NaN, p = NaN, quantile = NaN] of truth.chisq) {
    expect(relativeError(chiSquareQuantile(p, df), quantile)).toBeLessThan(truth.tolerance);
  }
});

test('chiSquareUpperTail(x, df) keeps its digits in the far tail', () => {
  expect(truth.chisqcdf).toHaveLength(7);
  for (const [df = NaN, x = NaN, , upper = NaN] of truth.chisqcdf) {
    expect(relativeError(chiSquareUpperTail(x, df), upper)).toBeLessThan(truth.tolerance);
  }
});

test('regularisedGamma(k + 1, mean).upper is the Poisson sum', () => {
  expect(truth.poiscdf).toHaveLength(4);
  for (const [count = NaN, mean = NaN, probability = NaN] of truth.poiscdf) {
    const { upper } = regularisedGamma(count + 1, mean);
    expect(relativeError(upper, probability)).toBeLessThan(truth.tolerance);
  }
});

test('lnGamma(n) is the logarithm of a factorial', () => {
  let factorial = 1;
  for (let n = 1; n <= 20; n++) {
    expect(Math.abs(lnGamma(n) - Math.log(factorial))).toBeLessThan(1e-13 * n);
    factorial *= n;
  }
  expect(relativeError(lnGamma(0.5), Math.log(Math.PI) / 2)).toBeLessThan(1e-13);
});

test('gammaQuantile(p, shape) handles its ends and refuses the rest', () => {
  expect([gammaQuantile(0, 3), gammaQuantile(1, 3)]).toEqual([0, Infinity]);
  for (const p of [-0.1, 1.1, NaN]) expect(() => gammaQuantile(p, 1)).toThrow(RangeError);
  for (const shape of [0, -1, NaN, Infinity]) {
    expect(() => gammaQuantile(0.5, shape)).toThrow(RangeError);
  }
  expect(() => chiSquareUpperTail(-1, 3)).toThrow('x must be >= 0, got -1');
});
