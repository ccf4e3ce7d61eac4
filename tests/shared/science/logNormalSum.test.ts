import { expect, test } from 'vitest';
import {
  chanceBelowValue,
  logNormalLimits,
  logNormalSum,
  logSdFromRange,
} from '#shared/science/logNormalSum.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const parts = [
  { median: 6, logSd: 0.09 },
  { median: 3, logSd: 0.25 },
  { median: 1, logSd: 0.4 },
];

function simulatedSums(): number[] {
  const random = seededRandom(1936);
  return Array.from({ length: 40_000 }, () =>
    parts.reduce((sum, { median, logSd }) => sum + median * random.logNormal(logSd), 0),
  ).sort((a, b) => a - b);
}

test('the sum of three lots follows a seeded simulation of 40 000', () => {
  const sums = simulatedSums();
  const found = logNormalSum(parts);
  const { low, high } = logNormalLimits(found);
  expect(Math.abs(low / (sums[1000] ?? NaN) - 1)).toBeLessThan(0.01);
  expect(Math.abs(high / (sums[39_000] ?? NaN) - 1)).toBeLessThan(0.01);
  const below = sums.filter((sum) => sum < 9).length / sums.length;
  expect(Math.abs(chanceBelowValue(found, 9) - below)).toBeLessThan(0.01);
});

// Mean and variance of a log-normal: m exp(s^2/2) and m^2 exp(s^2) (exp(s^2) - 1).
test('the sum keeps the mean and the variance of its parts', () => {
  const moments = ({ median, logSd }: { median: number; logSd: number }) => {
    const mean = median * Math.exp(logSd ** 2 / 2);
    return { mean, variance: mean ** 2 * (Math.exp(logSd ** 2) - 1) };
  };
  const of = parts.map(moments);
  const whole = moments(logNormalSum(parts));
  expect(whole.mean).toBeCloseTo(
    of.reduce((sum, { mean }) => sum + mean, 0),
    10,
  );
  expect(whole.variance).toBeCloseTo(
    of.reduce((sum, { variance }) => sum + variance, 0),
    10,
  );
});

test('one part is itself, and empty parts add nothing', () => {
  const one = { median: 5, logSd: 0.3 };
  expect(logNormalSum([one, { median: 0, logSd: 0.9 }])).toEqual(one);
  expect(logNormalSum([])).toEqual({ median: 0, logSd: 0 });
});

test('without spread the chance is all or nothing', () => {
  const sum = logNormalSum([
    { median: 2, logSd: 0 },
    { median: 3, logSd: 0 },
  ]);
  expect(sum).toEqual({ median: 5, logSd: 0 });
  expect([chanceBelowValue(sum, 4.9), chanceBelowValue(sum, 5.1)]).toEqual([0, 1]);
  expect(chanceBelowValue({ median: 0, logSd: 0 }, 1)).toBe(1);
});

test('logNormalSum(parts) refuses what has no spread or size', () => {
  expect(() => logNormalSum([{ median: -1, logSd: 0.1 }])).toThrow('median must be >= 0, got -1');
  expect(() => logNormalSum([{ median: 1, logSd: NaN }])).toThrow(RangeError);
});

// 1.96 spreads either side of the middle: 3.5 to 6.5 is ±0.31 on the log scale.
test('logSdFromRange(…) reads a range as 95 % of a log-normal', () => {
  expect(logSdFromRange({ low: 3.5e9, high: 6.5e9 })).toBeCloseTo(0.61904 / 3.91993, 6);
  expect(logSdFromRange({ low: 2, high: 2 })).toBe(0);
  expect(() => logSdFromRange({ low: 0, high: 2 })).toThrow(RangeError);
  expect(() => logSdFromRange({ low: 3, high: 2 })).toThrow(RangeError);
});
