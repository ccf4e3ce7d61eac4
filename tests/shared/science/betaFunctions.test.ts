import { expect, test } from 'vitest';
import {
  betaQuantile,
  fUpperTail,
  regularisedBeta,
  studentTQuantile,
  studentTUpperTail,
} from '#shared/science/betaFunctions.ts';
import truth from '../../reference/quantileTruth.json' with { type: 'json' };
import { relativeError } from '../../support/relativeError.ts';

test('betaQuantile(p, a, b) agrees with 40-digit truth', () => {
  expect(truth.beta).toHaveLength(144);
  for (const [a = NaN, b = NaN, p = NaN, quantile = NaN] of truth.beta) {
    expect(relativeError(betaQuantile(p, a, b), quantile)).toBeLessThan(truth.tolerance);
  }
});

test('studentTQuantile(p, df) agrees with 40-digit truth', () => {
  expect(truth.t).toHaveLength(128);
  for (const [df = NaN, p = NaN, quantile = NaN] of truth.t) {
    if (p === 0.5) expect(studentTQuantile(p, df)).toBe(0);
    else expect(relativeError(studentTQuantile(p, df), quantile)).toBeLessThan(truth.tolerance);
  }
});

test('fUpperTail(f, df1, df2) returns what lies above a true quantile', () => {
  expect(truth.f).toHaveLength(28);
  for (const [df1 = NaN, df2 = NaN, p = NaN, quantile = NaN] of truth.f) {
    expect(relativeError(fUpperTail(quantile, df1, df2), 1 - p)).toBeLessThan(truth.tolerance);
  }
});

test('regularisedBeta(1 - p, n - k, k + 1) is the binomial sum', () => {
  expect(truth.binomcdf).toHaveLength(3);
  for (const [n = NaN, k = NaN, p = NaN, probability = NaN] of truth.binomcdf) {
    const sum = regularisedBeta(1 - p, n - k, k + 1);
    expect(relativeError(sum, probability)).toBeLessThan(truth.tolerance);
  }
});

test('studentTUpperTail(t, df) undoes studentTQuantile', () => {
  for (const df of [1, 2, 9, 34, 1000]) {
    for (const p of [1e-8, 0.01, 0.3, 0.7, 0.975]) {
      const tail = studentTUpperTail(-studentTQuantile(p, df), df);
      expect(relativeError(tail, p)).toBeLessThan(1e-11);
    }
  }
});

test('the beta family refuses arguments without meaning', () => {
  expect(() => betaQuantile(1.1, 2, 2)).toThrow('p must be from 0 to 1, got 1.1');
  expect(() => betaQuantile(0.5, 0, 2)).toThrow(RangeError);
  // At the ends too, where the quantile needs no shape.
  expect(() => betaQuantile(0, Number.NaN, 2)).toThrow('a must be > 0, got NaN');
  expect(() => betaQuantile(1, 2, -1)).toThrow('b must be > 0, got -1');
  expect(() => studentTQuantile(0, 3)).toThrow(RangeError);
  expect(() => studentTQuantile(0.5, NaN)).toThrow(RangeError);
  expect(() => studentTUpperTail(NaN, 3)).toThrow(RangeError);
  expect(() => fUpperTail(-1, 3, 4)).toThrow(RangeError);
});
