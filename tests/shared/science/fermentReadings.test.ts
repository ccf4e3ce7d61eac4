import { expect, test } from 'vitest';
import { orderedReadings } from '#shared/science/fermentReadings.ts';

const reading = (hours: number, gravitySg: number) => Object.freeze({ hours, gravitySg });

test('orderedReadings(readings) leaves sound readings as they are', () => {
  const sound = Object.freeze([reading(0, 1.04), reading(24, 1.03), reading(48, 1.012)]);
  expect(orderedReadings(sound)).toEqual({ readings: sound, notes: [] });
});

test('orderedReadings(readings) sorts what is out of order and says which', () => {
  const { readings, notes } = orderedReadings([
    reading(0, 1.04),
    reading(48, 1.01),
    reading(24, 1.03),
  ]);
  expect(readings.map(({ hours }) => hours)).toEqual([0, 24, 48]);
  expect(notes).toEqual([{ index: 2, message: 'out of order, sorted' }]);
});

test('orderedReadings(readings) averages two readings at one time', () => {
  const { readings, notes } = orderedReadings([
    reading(0, 1.04),
    reading(24, 1.03),
    reading(24, 1.028),
  ]);
  expect(readings).toHaveLength(2);
  expect(readings[1]?.gravitySg).toBeCloseTo(1.029, 12);
  expect(notes).toEqual([{ index: 2, message: 'same time as another, averaged' }]);
});

test('orderedReadings(readings) takes readings within a minute for one', () => {
  const { readings, notes } = orderedReadings([
    { hours: 10, gravitySg: 1.03 },
    { hours: 10 + 59 / 3600, gravitySg: 1.028 },
    { hours: 10 + 61 / 3600, gravitySg: 1.027 },
  ]);
  expect(readings).toEqual([
    { hours: 10, gravitySg: 1.029 },
    { hours: 10 + 61 / 3600, gravitySg: 1.027 },
  ]);
  expect(notes).toEqual([{ index: 1, message: 'same time as another, averaged' }]);
});

test('orderedReadings(readings) keeps a rise and notes it beyond half a degree', () => {
  const { readings, notes } = orderedReadings([
    reading(0, 1.04),
    reading(12, 1.0405),
    reading(24, 1.03),
    reading(30, 1.032),
  ]);
  expect(readings).toHaveLength(4);
  expect(notes).toEqual([{ index: 3, message: 'higher than the reading before it, kept' }]);
});

test('orderedReadings(readings) refuses what cannot be a reading of this ferment', () => {
  const { readings, notes } = orderedReadings([
    reading(-2, 1.04),
    reading(NaN, 1.03),
    reading(6, 1040),
    reading(8, NaN),
    reading(12, 1.035),
  ]);
  expect(readings).toEqual([reading(12, 1.035)]);
  expect(notes.map(({ index, message }) => `${index} ${message}`)).toEqual([
    '0 taken before the pitch, left out',
    '1 no time, left out',
    '2 gravity is not between 0.950 and 1.200, left out',
    '3 gravity is not between 0.950 and 1.200, left out',
  ]);
});

test('orderedReadings(readings) accepts none', () => {
  expect(orderedReadings([])).toEqual({ readings: [], notes: [] });
});

test('orderedReadings(readings) orders those of a sensor over a month at once', () => {
  const count = 28 * 24 * 30;
  const falling = Array.from({ length: count }, (_, place) =>
    reading(place / 30, 1.04 - (0.03 * place) / count),
  );
  const { readings, notes } = orderedReadings(falling.toReversed());
  expect(readings).toHaveLength(count);
  expect(readings[0]).toEqual(falling[0]);
  expect(notes).toHaveLength(count - 1);
});
