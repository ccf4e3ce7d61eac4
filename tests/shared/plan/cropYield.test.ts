import { expect, test } from 'vitest';
import { cropYield, usualYield } from '#shared/plan/cropYield.ts';

const crop = (ratio: number, hours = 46, viability: number | null = 0.97) => ({
  ...{ strainId: 'north', ratio, hours, viability },
});

// Three times the pitch kept of a top crop after two days: common practice, no source.
test('cropYield(past) with fewer than five crops is what is usual, and says so', () => {
  const few = cropYield([2, 2, 2, 2].map((ratio) => crop(ratio)));
  expect(few).toMatchObject({ basis: 'common practice', crops: 4, ratio: usualYield.ratio });
  expect(few.ratio).toEqual({ value: 3, low: 1.5, high: 6 });
  expect(few.hours).toEqual({ value: 48, low: 36, high: 72 });
  // A range of a factor of two either way is ln 2 / 1.959964.
  expect(few.ratioLogSd).toBeCloseTo(0.35365, 5);
});

// Prediction interval for the next of five: mean ± t s sqrt(1 + 1/5), t(0.975, 4) = 2.776 (any t table).
test('cropYield(past) gives the log-normal prediction interval of the next ratio', () => {
  const found = cropYield([2, 2.5, 3, 3.5, 4].map((ratio) => crop(ratio)));
  const logs = [2, 2.5, 3, 3.5, 4].map(Math.log);
  const mean = logs.reduce((sum, log) => sum + log) / 5;
  const sd = Math.sqrt(logs.reduce((sum, log) => sum + (log - mean) ** 2, 0) / 4);
  const half = 2.776 * sd * Math.sqrt(1.2);
  expect(found.basis).toBe('own crops');
  expect(found.ratio.value).toBeCloseTo(Math.exp(mean), 9);
  expect(found.ratio.low).toBeCloseTo(Math.exp(mean - half), 3);
  expect(found.ratio.high).toBeCloseTo(Math.exp(mean + half), 2);
});

test('cropYield(past) takes the middle of the hours, and of the stains there are', () => {
  const past = [40, 44, 46, 50, 90].map((hours, i) =>
    crop(3, hours, i === 0 ? null : 0.94 + i / 100),
  );
  const { hours, viability } = cropYield(past);
  expect(hours.value).toBe(46);
  expect(viability.value).toBeCloseTo(0.97, 9);
});

// Of eleven in order the second has a tenth of them at or below its rank, the tenth nine tenths.
test('cropYield(past) ranges from the tenth to the ninetieth of a hundred', () => {
  const past = [47, 40, 50, 43, 41, 49, 44, 46, 42, 48, 45].map((hours) =>
    crop(3, hours, hours / 100 + 0.4),
  );
  const { hours, viability } = cropYield(past);
  expect(hours).toEqual({ value: 45, low: 41, high: 49 });
  expect(viability.low).toBeCloseTo(0.81, 9);
  expect(viability.high).toBeCloseTo(0.89, 9);
});

test('cropYield(past) without a stain takes the usual share alive', () => {
  const past = [40, 44, 46, 50, 90].map((hours) => crop(3, hours, null));
  expect(cropYield(past)).toMatchObject({
    basis: 'own crops',
    viability: { value: 0.95, low: 0.9, high: 0.98 },
  });
});

test('cropYield(past) of crops all alike has no spread', () => {
  const { ratio } = cropYield(Array.from({ length: 6 }, () => crop(2.5)));
  expect(ratio.low).toBeCloseTo(2.5, 9);
  expect(ratio.high).toBeCloseTo(2.5, 9);
});
