import { expect, test } from 'vitest';
import { crossingHours, greatestFallBetweenReadings } from '#shared/science/crossingTimes.ts';

const readings = Object.freeze(
  [
    [0, 1.044],
    [12, 1.042],
    [24, 1.034],
    [48, 1.016],
    [72, 1.011],
  ].map(([hours = NaN, gravitySg = NaN]) => Object.freeze({ hours, gravitySg })),
);

test('crossingHours(readings, level) interpolates between two readings', () => {
  expect(crossingHours(readings, 1.04)).toBeCloseTo(15, 9);
  expect(crossingHours(readings, 1.02)).toBeCloseTo(24 + (14 / 18) * 24, 9);
});

test('crossingHours(readings, level) is the time of a reading that is at the level', () => {
  expect(crossingHours(readings, 1.034)).toBe(24);
  expect(crossingHours(readings, 1.044)).toBe(0);
});

test('crossingHours(readings, level) is undefined when the level was not seen crossed', () => {
  expect(crossingHours(readings, 1.05)).toBe(undefined);
  expect(crossingHours(readings, 1.01)).toBe(undefined);
  expect(crossingHours([], 1.02)).toBe(undefined);
  expect(crossingHours(readings, NaN)).toBe(undefined);
});

test('crossingHours(readings, level) takes the first of several crossings', () => {
  const wavering = [1.04, 1.03, 1.036, 1.02].map((gravitySg, i) => ({ hours: 10 * i, gravitySg }));
  expect(crossingHours(wavering, 1.034)).toBeCloseTo(6, 9);
});

test('greatestFallBetweenReadings(readings) is in degrees per hour', () => {
  expect(greatestFallBetweenReadings(readings)).toBeCloseTo(0.75, 9);
  expect(greatestFallBetweenReadings(readings.slice(0, 1))).toBe(undefined);
});
