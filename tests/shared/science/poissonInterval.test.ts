import { expect, test } from 'vitest';
import { exactPoissonInterval, poissonIntervalOfWeight } from '#shared/science/poissonInterval.ts';
import garwood from '../../reference/garwood1936.json' with { type: 'json' };

test('exactPoissonInterval(count) gives the limits of Garwood 1936', () => {
  expect(garwood.rows).toHaveLength(25);
  for (const [count = NaN, low = NaN, high = NaN] of garwood.rows) {
    const interval = exactPoissonInterval(count);
    expect(Math.abs(interval.low - low)).toBeLessThanOrEqual(garwood.tolerance * low);
    expect(Math.abs(interval.high - high)).toBeLessThan(garwood.tolerance * high);
  }
});

test('exactPoissonInterval(count, confidence) gives other confidences', () => {
  expect(garwood.otherConfidences).toHaveLength(2);
  for (const [count = NaN, confidence = NaN, low = NaN, high = NaN] of garwood.otherConfidences) {
    const interval = exactPoissonInterval(count, confidence);
    expect(Math.abs(interval.low - low)).toBeLessThan(garwood.tolerance * low);
    expect(Math.abs(interval.high - high)).toBeLessThan(garwood.tolerance * high);
  }
});

test('poissonIntervalOfWeight(weight) lies between its whole neighbours', () => {
  const [below, between, above] = [10, 10.5, 11].map((weight) => poissonIntervalOfWeight(weight));
  expect(between?.low).toBeGreaterThan(below?.low ?? NaN);
  expect(between?.high).toBeLessThan(above?.high ?? NaN);
});

test('exactPoissonInterval(count) refuses what is not a count', () => {
  for (const count of [-1, 1.5, NaN, Infinity]) {
    expect(() => exactPoissonInterval(count)).toThrow(RangeError);
  }
  expect(() => exactPoissonInterval(3, 1)).toThrow('confidence must be between 0 and 1, got 1');
});
