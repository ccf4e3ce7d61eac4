import { expect, test } from 'vitest';
import { type PitchCheck, runningBias } from '#shared/science/slurryBias.ts';

const check = (foundPerMl: number): PitchCheck => ({
  ...{ expectedPerMl: 7.5e6, expectedLogSd: 0.08 },
  ...{ foundPerMl, foundLogSd: 0.08 },
});

test('counts a fifth below what was promised are told as such', () => {
  const found = runningBias([5.9e6, 6.1e6, 6.0e6, 5.8e6, 6.2e6, 6.0e6].map(check));
  expect(found?.ratio).toBeCloseTo(0.8, 2);
  expect(found).toMatchObject({ distinguishable: true, pairs: 6, betweenBatchLogSd: 0 });
  expect(found?.high).toBeLessThan(1);
});

test('counts around the promise tell no bias', () => {
  const found = runningBias([7e6, 8e6, 7.6e6, 7.4e6].map(check));
  expect(found?.distinguishable).toBe(false);
  expect(found?.low).toBeLessThan(1);
  expect(found?.high).toBeGreaterThan(1);
});

// By hand: two pairs of equal variance v, t(.975, 1) = 12.7062, SE = sqrt(v / 2), Q below 1.
test('two pairs that agree have the interval of one degree of freedom', () => {
  const found = runningBias([6.0e6, 6.0e6].map(check));
  const half = 12.7062047 * Math.sqrt(0.0128 / 2);
  expect(Math.log((found?.high ?? Number.NaN) / 0.8)).toBeCloseTo(half, 6);
});

test('batches that scatter beyond their counts widen the interval', () => {
  const scattered = runningBias([4e6, 9e6, 5e6, 8e6].map(check));
  const close = runningBias([5.9e6, 6.1e6, 5.9e6, 6.1e6].map(check));
  expect(scattered?.betweenBatchLogSd).toBeGreaterThan(0.2);
  expect(close?.betweenBatchLogSd).toBe(0);
  const width = (bias: typeof close) => (bias?.high ?? 0) / (bias?.low ?? 1);
  expect(width(scattered)).toBeGreaterThan(width(close));
});

test('one pair alone never tells a bias, none has no answer', () => {
  expect(runningBias([check(2e6)])).toMatchObject({ distinguishable: false, pairs: 1 });
  expect(runningBias([])).toBeUndefined();
});

test('runningBias(pairs) refuses counts of nothing', () => {
  expect(() => runningBias([check(0)])).toThrow('foundPerMl must be > 0, got 0');
  expect(() => runningBias([{ ...check(1e6), foundLogSd: 0 }])).toThrow(RangeError);
  expect(() => runningBias([{ ...check(1e6), expectedPerMl: Number.NaN }])).toThrow(RangeError);
});
