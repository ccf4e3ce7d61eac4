import { expect, test } from 'vitest';
import { roughNormalQuantile } from '#shared/science/roughNormalQuantile.ts';
import truth from '../../reference/quantileTruth.json' with { type: 'json' };

// Abramowitz and Stegun 26.2.23 states 4.5e-4 as its greatest error.
test('roughNormalQuantile(p) is within the error its source states', () => {
  const [...rows] = truth.norm;
  expect(rows).toHaveLength(8);
  for (const [p = Number.NaN, quantile = Number.NaN] of rows) {
    expect(Math.abs(roughNormalQuantile(p) - quantile)).toBeLessThan(4.5e-4);
  }
});

test('roughNormalQuantile(p) refuses the ends', () => {
  for (const p of [0, 1, Number.NaN]) expect(() => roughNormalQuantile(p)).toThrow(RangeError);
});
