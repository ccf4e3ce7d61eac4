import { expect, test } from 'vitest';
import { agreementOfSides } from '#shared/science/agreementOfSides.ts';

// scipy 1.17.1: binomtest(60, 100, 0.5).pvalue; the exact limits are Clopper and Pearson's.
test('agreementOfSides(60, 1, 40, 1) is the exact binomial test', () => {
  const found = agreementOfSides(60, 1, 40, 1);
  expect(found?.ratio).toBeCloseTo(1.5, 12);
  expect(found?.pValue).toBeCloseTo(0.05688793364098089, 10);
  expect(found?.disagree).toBe(false);
});

test('agreementOfSides(…) calls two sides of 300 and 200 apart', () => {
  expect(agreementOfSides(300, 1, 200, 1)?.disagree).toBe(true);
});

test('agreementOfSides(…) takes the areas into account', () => {
  const found = agreementOfSides(100, 0.2, 500, 1);
  expect(found?.ratio).toBeCloseTo(1, 12);
  expect(found?.pValue).toBeGreaterThan(0.9);
});

test('exchanging the sides inverts the ratio and keeps the chance', () => {
  const one = agreementOfSides(57, 1, 80, 1.3);
  const other = agreementOfSides(80, 1.3, 57, 1);
  expect((one?.ratio ?? NaN) * (other?.ratio ?? NaN)).toBeCloseTo(1, 12);
  expect((one?.low ?? NaN) * (other?.high ?? NaN)).toBeCloseTo(1, 10);
  expect(one?.pValue).toBeCloseTo(other?.pValue ?? NaN, 10);
});

test('an error of filling excuses a gap that chance alone does not', () => {
  expect(agreementOfSides(1000, 1, 880, 1)?.disagree).toBe(true);
  expect(agreementOfSides(1000, 1, 880, 1, 0.046)?.disagree).toBe(false);
});

test('agreementOfSides(…) has no answer without cells and none at zero area', () => {
  expect(agreementOfSides(0, 1, 0, 1)).toBeUndefined();
  expect(agreementOfSides(9, 1, 0, 1)).toMatchObject({ ratio: Infinity, high: Infinity });
  expect(() => agreementOfSides(1, 0, 1, 1)).toThrow('areaA must be > 0, got 0');
  expect(() => agreementOfSides(1.5, 1, 1, 1)).toThrow(RangeError);
});
