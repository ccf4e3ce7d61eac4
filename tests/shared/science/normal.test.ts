import { expect, test } from 'vitest';
import { normalCdf, normalQuantile } from '#shared/science/normal.ts';
import truth from '../../reference/quantileTruth.json' with { type: 'json' };
import { relativeError } from '../../support/relativeError.ts';

test('normalQuantile(p) agrees with 40-digit truth', () => {
  expect(truth.norm).toHaveLength(8);
  for (const [p = NaN, quantile = NaN] of truth.norm) {
    if (p === 0.5) expect(normalQuantile(p)).toBe(0);
    else expect(relativeError(normalQuantile(p), quantile)).toBeLessThan(truth.tolerance);
  }
});

test('normalCdf(z) agrees with 40-digit truth in the far tail', () => {
  expect(truth.normcdf).toHaveLength(5);
  for (const [z = NaN, probability = NaN] of truth.normcdf) {
    expect(relativeError(normalCdf(z), probability)).toBeLessThan(truth.tolerance);
  }
});

test('normalCdf(normalQuantile(p)) is p', () => {
  const probabilities = [1e-300, 1e-12, 0.001, 0.2499, 0.2501, 0.4999, 0.5, 0.75, 0.999];
  for (const p of probabilities) {
    expect(relativeError(normalCdf(normalQuantile(p)), p)).toBeLessThan(1e-12);
  }
});

test('normalQuantile(p) is infinite at the ends and refuses the rest', () => {
  expect([normalQuantile(0), normalQuantile(1)]).toEqual([-Infinity, Infinity]);
  for (const p of [-0.1, 1.1, NaN]) expect(() => normalQuantile(p)).toThrow(RangeError);
  expect(() => normalCdf(NaN)).toThrow('normalCdf: z must be a number, got NaN');
});
