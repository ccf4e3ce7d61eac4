import { expect, test } from 'vitest';
import { gravityOnCurve } from '#shared/science/fermentLogistic.ts';
import { fermentProgress, hoursToProgress } from '#shared/science/fermentProgress.ts';

const paces = Object.freeze([
  { halfTimeHours: 28, ratePerHour: 0.1 },
  { halfTimeHours: 20, ratePerHour: 0.3 },
  { halfTimeHours: 36, ratePerHour: 0.01 },
]);

test('fermentProgress(pace, hours) is 0 at the pitch, a half at the half time, 1 at last', () => {
  for (const pace of paces) {
    expect(fermentProgress(pace, 0)).toBe(0);
    expect(fermentProgress(pace, -5)).toBe(0);
    expect(fermentProgress(pace, pace.halfTimeHours)).toBeCloseTo(0.5, 12);
    expect(fermentProgress(pace, 1e5)).toBeCloseTo(1, 12);
  }
});

test('fermentProgress(pace, hours) is the falling logistic counted from its gravity at hour 0', () => {
  const shape = { initial: 10, end: 2.5, midpointHours: 30, ratePerHour: 0.1, asymmetry: 1 };
  // The worked row of the logistic: 9.6443 at 0 h, 7.3424 at 24 h, 3.5639 at 48 h.
  const original = gravityOnCurve(shape, 0);
  const half = Math.log(Math.exp(3) + 2) / 0.1;
  for (const [hours, plato] of [
    [24, 7.3424],
    [48, 3.5639],
  ] as const) {
    const share = fermentProgress({ halfTimeHours: half, ratePerHour: 0.1 }, hours);
    expect(original - share * (original - 2.5)).toBeCloseTo(plato, 4);
  }
});

test('hoursToProgress(pace, share) inverts fermentProgress', () => {
  for (const pace of paces) {
    for (const hours of [1, 10, 28, 50]) {
      expect(hoursToProgress(pace, fermentProgress(pace, hours))).toBeCloseTo(hours, 7);
    }
  }
  expect(hoursToProgress({ halfTimeHours: 28, ratePerHour: 0.1 }, 1)).toBe(Infinity);
  expect(hoursToProgress({ halfTimeHours: 28, ratePerHour: 0.1 }, -0.1)).toBe(0);
});

test('fermentProgress(pace, hours) refuses a pace that is not positive', () => {
  expect(() => fermentProgress({ halfTimeHours: 0, ratePerHour: 0.1 }, 1)).toThrow(RangeError);
  expect(() => hoursToProgress({ halfTimeHours: 9, ratePerHour: NaN }, 0.1)).toThrow(RangeError);
});
