import fc from 'fast-check';
import { expect, test } from 'vitest';
import { usualDensity } from '#shared/science/usualDensity.ts';
import { seededRandom } from '../../support/seededRandom.ts';

// By hand: ln 1, ln e, ln e^2 have mean 1 and sd 1; t(.975, 2) = 4.30265273 (R qt), sqrt(4/3).
test('usualDensity of three counts is their prediction interval', () => {
  const { value, low, high, logSd } = usualDensity([1, Math.E, Math.E ** 2]);
  const half = 4.302652729749462 * Math.sqrt(4 / 3);
  expect(value).toBeCloseTo(Math.E, 12);
  expect(Math.log(high) - 1).toBeCloseTo(half, 10);
  expect(1 - Math.log(low)).toBeCloseTo(half, 10);
  expect(logSd).toBeCloseTo(half / 1.959963984540054, 10);
});

test('counts that all agree leave no spread, in whatever order', () => {
  expect(usualDensity([2e9, 2e9, 2e9]).logSd).toBe(0);
  fc.assert(
    fc.property(
      fc.array(fc.double({ min: 1e6, max: 1e10, noNaN: true }), { minLength: 3 }),
      (counts) => {
        const one = usualDensity(counts);
        const other = usualDensity(counts.toReversed());
        expect(other.value / one.value).toBeCloseTo(1, 9);
        expect(one.low).toBeLessThanOrEqual(one.high);
      },
    ),
  );
});

// Seen: 0.947. Exact for log-normal lots, so 93 to 97 % in 4000 seeded trials.
test('one more lot falls within the range 93 to 97 times in 100', () => {
  const random = seededRandom(1908);
  let held = 0;
  for (let trial = 0; trial < 4000; trial++) {
    const { low, high } = usualDensity(
      Array.from({ length: 5 }, () => 1.8e9 * random.logNormal(0.25)),
    );
    const next = 1.8e9 * random.logNormal(0.25);
    if (low <= next && next <= high) held++;
  }
  expect(held / 4000).toBeGreaterThan(0.93);
  expect(held / 4000).toBeLessThan(0.97);
});

test('usualDensity(counts) refuses too few, and counts of nothing', () => {
  expect(() => usualDensity([1e9, 1e9])).toThrow('must hold at least 3, got 2');
  expect(() => usualDensity([1e9, 1e9, 0])).toThrow(RangeError);
  expect(() => usualDensity([1e9, 1e9, Number.NaN])).toThrow(RangeError);
});
