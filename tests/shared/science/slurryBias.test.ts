import { expect, test } from 'vitest';
import { type PitchCheck, runningBias } from '#shared/science/slurryBias.ts';

const check = (foundPerMl: number): PitchCheck => ({
  ...{ expectedPerMl: 7.5e6, expectedLogSd: 0.08 },
  ...{ foundPerMl, foundLogSd: 0.08 },
});

test('counts a fifth below what was promised are told as such', () => {
  const found = runningBias([5.9e6, 6.1e6, 6.0e6, 5.8e6, 6.2e6, 6.0e6].map(check));
  expect(found?.ratio).toBeCloseTo(0.8, 3);
  expect(found).toMatchObject({ distinguishable: true, pairs: 6 });
  expect(found?.high).toBeLessThan(1);
});

test('counts around the promise tell no bias', () => {
  const found = runningBias([7e6, 8e6, 7.6e6, 7.4e6].map(check));
  expect(found?.distinguishable).toBe(false);
  expect(found?.low).toBeLessThan(1);
  expect(found?.high).toBeGreaterThan(1);
});

// By hand, no spread between batches: SE = sqrt(v / 2) with v = 0.0128, half width 1.959964 SE.
test('with next to no spread between batches the interval is that of the plain mean', () => {
  const found = runningBias([6.0e6, 6.0e6].map(check), 1e-6);
  const half = 1.959964 * Math.sqrt(0.0128 / 2);
  expect(Math.log((found?.high ?? Number.NaN) / 0.8)).toBeCloseTo(half, 8);
  expect(Math.log(0.8 / (found?.low ?? Number.NaN))).toBeCloseTo(half, 8);
});

test('batches that scatter beyond their counts widen the interval', () => {
  const scattered = runningBias([4e6, 9e6, 5e6, 8e6].map(check));
  const close = runningBias([5.9e6, 6.1e6, 5.9e6, 6.1e6].map(check));
  const spread = (bias: typeof close) => bias?.betweenBatchLogSd ?? Number.NaN;
  expect(spread(scattered)).toBeGreaterThan(2 * spread(close));
  const width = (bias: typeof close) => (bias?.high ?? 0) / (bias?.low ?? 1);
  expect(width(scattered)).toBeGreaterThan(width(close));
  expect(scattered?.nextBatchLogSd).toBeGreaterThan(spread(scattered));
});

test('the order of pitches does not matter', () => {
  const pairs = [5e6, 7e6, 6e6, 8e6].map(check);
  expect(runningBias(pairs.toReversed())?.low).toBeCloseTo(runningBias(pairs)?.low ?? 0, 12);
});

test('one pair or two never tell a bias, none has no answer', () => {
  expect(runningBias([check(1e6)])).toMatchObject({ distinguishable: false, pairs: 1 });
  expect(runningBias([1e6, 1e6].map(check))).toMatchObject({ distinguishable: false, pairs: 2 });
  expect(runningBias([])).toBeUndefined();
});

test('runningBias(pairs) refuses counts of nothing', () => {
  expect(() => runningBias([check(0)])).toThrow('foundPerMl must be > 0, got 0');
  expect(() => runningBias([{ ...check(1e6), foundLogSd: 0 }])).toThrow(RangeError);
  expect(() => runningBias([check(1e6)], 0)).toThrow(RangeError);
  expect(() => runningBias([{ ...check(1e6), expectedPerMl: Number.NaN }])).toThrow(RangeError);
});
