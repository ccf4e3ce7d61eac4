import { expect, test } from 'vitest';
import { derivedEstimate } from '#shared/science/deltaMethod.ts';

test('derivedEstimate(ratio) gives the delta-method error of a ratio of two means', () => {
  // Means 14 (SD 3, n 6) and 7 (SD 2, n 6): standard error of the ratio 0.2916, from an
  // independent computation of the published confidence limits of this ratio.
  const covariance = [
    [9 / 6, 0],
    [0, 4 / 6],
  ];
  const ratio = derivedEstimate(([a = NaN, b = NaN]) => a / b, [14, 7], covariance);
  expect(ratio?.value).toBe(2);
  expect(ratio?.standardError).toBeCloseTo(0.2916059217599, 9);
});

test('derivedEstimate(ratio) carries the covariance of the two parts', () => {
  // 0.15 / 0.25 with variances 0.002 and 0.005 and covariance 0.0001, computed independently.
  const covariance = [
    [0.002, 0.0001],
    [0.0001, 0.005],
  ];
  const ratio = derivedEstimate(([a = NaN, b = NaN]) => a / b, [0.15, 0.25], covariance);
  expect(ratio?.standardError).toBeCloseTo(0.24265201420965, 9);
});

test('derivedEstimate(figure) is undefined where the figure does not apply', () => {
  expect(derivedEstimate(() => undefined, [1], [[1]])).toBe(undefined);
});

test('derivedEstimate(figure) leaves the error out when the parameters are not determined', () => {
  expect(derivedEstimate(([a = NaN]) => a, [3], [[Infinity]])).toEqual({ value: 3 });
});
