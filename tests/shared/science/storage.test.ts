import { expect, test } from 'vitest';
import {
  equivalentDays,
  predictedViability,
  priorLossRate,
  survivalAfter,
} from '#shared/science/storage.ts';

const days = (count: number, tempC: number) => [{ hours: 24 * count, tempC }];

// McCaig & Bendiak 1985, MBAA TQ (abstract): six days at 1 °C lose 7 %, at 25 °C 68 % (the temperature
// of the 68 % is assumed); rates worked from ln S / t.
test('the prior loss passes through the published drops at 1 and 25 °C', () => {
  expect(survivalAfter(days(6, 1)).fraction).toBeCloseTo(0.93, 3);
  expect(Math.abs(survivalAfter(days(6, 25)).fraction - 0.32)).toBeLessThan(0.005);
  expect(priorLossRate.perDay).toBeCloseTo(-Math.log(0.93) / 6, 4);
  const k25 = -Math.log(0.32) / 6;
  expect(priorLossRate.q10).toBeCloseTo((k25 / (-Math.log(0.93) / 6)) ** (10 / 24), 3);
});

// Same source: 14 % at 5 °C, which the line misses towards optimism; kept in sight as a bound.
test('the loss at 5 °C lies within the prior range of the published 14 %', () => {
  const { low, high } = survivalAfter(days(6, 5));
  expect(low).toBeLessThan(0.86);
  expect(high).toBeGreaterThan(0.86);
});

// Worked by hand from k1 = 0.0121, Q = 3.15.
test.each([
  [3, 4, 0.95],
  [7, 4, 0.887],
  [7, 10, 0.788],
])('%f days at %f °C leave %f', (count, tempC, fraction) => {
  expect(Number(survivalAfter(days(count, tempC)).fraction.toFixed(3))).toBe(fraction);
});

// Sall 1988, as Boulton & Quain report it: three days at 1.6 °C, viability stayed 90 to 96 %.
test('three days at 1.6 °C cost a few percent at most', () => {
  const { low, high } = survivalAfter(days(3, 1.6));
  expect(low).toBeGreaterThan(0.8);
  expect(high).toBeLessThan(1);
});

// HELM workbook of Q10: rate 8 at 40 °C and 24 at 70 °C, Q10 = 3^(1/3).
test('equivalentDays(history, ref, q10) scales time by the two-point Q10', () => {
  expect(equivalentDays(days(1, 70), 40, 3 ** (1 / 3))).toBeCloseTo(3, 12);
});

test('equivalentDays(history) adds parts, whatever their order', () => {
  const parts = [
    { hours: 12, tempC: 2 },
    { hours: 36, tempC: 6 },
  ];
  const split = [...parts.toReversed(), { hours: 0, tempC: 30 }];
  expect(equivalentDays(split)).toBeCloseTo(equivalentDays(parts), 12);
  expect(equivalentDays(days(5, 1))).toBe(5);
  expect(equivalentDays([])).toBe(0);
});

test('nothing stored loses nothing, and the range opens with time', () => {
  expect(survivalAfter([])).toEqual({ fraction: 1, low: 1, high: 1, logSd: 0 });
  const short = survivalAfter(days(1, 3));
  const long = survivalAfter(days(8, 3));
  expect(long.high - long.low).toBeGreaterThan(short.high - short.low);
});

test('predictedViability(…) falls, widens and stays a percentage', () => {
  const measured = { percent: 95, low: 92.95, high: 96.48 };
  const later = predictedViability(measured, days(4, 4));
  expect(later.percent).toBeCloseTo(95 * survivalAfter(days(4, 4)).fraction, 10);
  expect(later.low / later.percent).toBeLessThan(measured.low / 95);
  expect(later.high).toBeLessThanOrEqual(100);
  const now = predictedViability(measured, []);
  expect([now.low, now.high].map((limit) => limit.toFixed(2))).toEqual(['92.95', '96.48']);
  expect(predictedViability({ percent: 0, low: 0, high: 4 }, days(1, 1)).percent).toBe(0);
});

// By hand: 10 °C over the reference at Q = 2 makes one day two, so exp(-0.01 × 2) = 0.980199 live on,
// and 90 % become 88.2179 %; ln k known to 0.1, so ln S to 0.02 × 0.1.
test('a brewery’s own rate brings its own Q10, for survival and for viability', () => {
  const own = { perDay: 0.01, logSd: 0.1, q10: 2 };
  const { fraction, low, high, logSd } = survivalAfter(days(1, 11), own);
  expect(fraction).toBeCloseTo(0.980199, 6);
  expect(logSd).toBeCloseTo(0.002, 12);
  // exp(1.959964 × 0.1) = 1.21652: the loss of 0.02 is 0.016440 to 0.024330.
  expect(low).toBeCloseTo(Math.exp(-0.02433), 5);
  expect(high).toBeCloseTo(Math.exp(-0.01644), 5);
  const measured = { percent: 90, low: 88, high: 92 };
  expect(predictedViability(measured, days(1, 11), own).percent).toBeCloseTo(88.2179, 4);
});

// 95 % of a stain and of the loss together: ln(90/88) = 0.022473 and 0.004330 in squares are 0.022886;
// ln(92/90) = 0.021979 and 0.003560 are 0.022265. Logarithms and roots by hand.
test('predictedViability(…) adds the doubts of the stain and of the loss in squares', () => {
  const own = { perDay: 0.01, logSd: 0.1, q10: 2 };
  const then = predictedViability({ percent: 90, low: 88, high: 92 }, days(1, 11), own);
  expect(Math.log(then.percent / then.low)).toBeCloseTo(0.022886, 5);
  expect(Math.log(then.high / then.percent)).toBeCloseTo(0.022265, 5);
});

test('a range that begins at none alive has no logarithm, and still ends where it did', () => {
  const few = predictedViability({ percent: 1, low: 0, high: 5 }, []);
  expect(few).toEqual({ percent: 1, low: 0, high: 5, logSd: undefined });
});

test('storage refuses times and rates without meaning', () => {
  expect(() => equivalentDays([{ hours: -1, tempC: 3 }])).toThrow('hours must be >= 0, got -1');
  expect(() => equivalentDays([{ hours: 1, tempC: NaN }])).toThrow(RangeError);
  expect(() => survivalAfter([], { perDay: 0, logSd: 1, q10: 3 })).toThrow(RangeError);
  expect(() => predictedViability({ percent: 90, low: 95, high: 96 }, [])).toThrow(RangeError);
});

// A stain without spread leaves that of the loss alone.
test('predictedViability(…) carries the spread of the loss too, and ends at 100 %', () => {
  const { logSd } = survivalAfter(days(4, 4));
  const sure = predictedViability({ percent: 95, low: 95, high: 95 }, days(4, 4));
  expect(sure.logSd).toBeCloseTo(logSd, 12);
  expect(predictedViability({ percent: 100, low: 90, high: 100 }, []).high).toBe(100);
  const nearly = predictedViability({ percent: 99.9, low: 60, high: 100 }, days(0.01, 4));
  expect(nearly.high).toBeLessThanOrEqual(100);
});
