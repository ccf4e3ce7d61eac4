import { expect, test } from 'vitest';
import {
  exactProportionInterval,
  upperLimitWhenNoneFound,
  wilsonInterval,
} from '#shared/science/proportionInterval.ts';
import newcombe from '../../reference/newcombe1998.json' with { type: 'json' };
import { relativeError } from '../../support/relativeError.ts';

test('both intervals give the rows of Newcombe 1998, Table I', () => {
  expect(newcombe.rows).toHaveLength(3);
  for (const [
    x = NaN,
    n = NaN,
    wilsonLow = NaN,
    wilsonHigh = NaN,
    low = NaN,
    high = NaN,
  ] of newcombe.rows) {
    const wilson = wilsonInterval(x, n);
    const exact = exactProportionInterval(x, n);
    expect(relativeError(wilson.low, wilsonLow)).toBeLessThan(newcombe.tolerance);
    expect(relativeError(wilson.high, wilsonHigh)).toBeLessThan(newcombe.tolerance);
    expect(relativeError(exact.low, low)).toBeLessThan(newcombe.tolerance);
    expect(relativeError(exact.high, high)).toBeLessThan(newcombe.tolerance);
  }
});

test('both intervals round to the printed four decimals', () => {
  for (const [x = NaN, n = NaN, ...printed] of newcombe.printed) {
    const wilson = wilsonInterval(x, n);
    const exact = exactProportionInterval(x, n);
    const limits = [wilson.low, wilson.high, exact.low, exact.high];
    expect(limits.map((limit) => Number(limit.toFixed(4)))).toEqual(printed);
  }
});

// Worked from the score formula by hand to two decimals of a percent.
test.each([
  [95, 100, 88.82, 97.85],
  [190, 200, 91.04, 97.26],
  [570, 600, 92.95, 96.48],
  [950, 1000, 93.47, 96.19],
  [540, 600, 87.34, 92.15],
])('wilsonInterval(%i, %i) is %f to %f percent', (live, total, low, high) => {
  const interval = wilsonInterval(live, total);
  expect(Number((100 * interval.low).toFixed(2))).toBe(low);
  expect(Number((100 * interval.high).toFixed(2))).toBe(high);
});

test('the interval of the dead mirrors that of the living', () => {
  for (const interval of [wilsonInterval, exactProportionInterval]) {
    const live = interval(83, 90, 0.9);
    const dead = interval(7, 90, 0.9);
    expect(live.low + dead.high).toBeCloseTo(1, 12);
    expect(live.high + dead.low).toBeCloseTo(1, 12);
  }
});

test('upperLimitWhenNoneFound(n) is the rule of three for many trials', () => {
  expect(upperLimitWhenNoneFound(1000)).toBeCloseTo(-Math.log(0.05) / 1000, 5);
  expect(upperLimitWhenNoneFound(1)).toBeCloseTo(0.95, 14);
  // Clopper-Pearson at x = 0 with both tails in one.
  expect(upperLimitWhenNoneFound(48, 0.95)).toBeCloseTo(
    exactProportionInterval(0, 48, 0.9).high,
    12,
  );
});

test('proportions refuse samples that cannot be', () => {
  expect(() => wilsonInterval(3, 2)).toThrow('successes must be at most trials (2), got 3');
  expect(() => wilsonInterval(0, 0)).toThrow(RangeError);
  expect(() => exactProportionInterval(1.5, 3)).toThrow(RangeError);
  expect(() => exactProportionInterval(NaN, 3)).toThrow(RangeError);
  expect(() => upperLimitWhenNoneFound(0)).toThrow(RangeError);
});
