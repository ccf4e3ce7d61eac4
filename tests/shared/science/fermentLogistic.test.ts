import { expect, test } from 'vitest';
import {
  type FermentShape,
  gravityOnCurve,
  greatestRate,
  hoursToGravity,
  tangentHours,
} from '#shared/science/fermentLogistic.ts';

// Worked by arithmetic for 10 to 2.5 degrees Plato, rate 0.10 per hour, midpoint 30 h.
const worked: FermentShape = Object.freeze({
  initial: 10,
  end: 2.5,
  midpointHours: 30,
  ratePerHour: 0.1,
  asymmetry: 1,
});
const skewed = (asymmetry: number) => Object.freeze({ ...worked, asymmetry });

test('gravityOnCurve(shape, hours) agrees with the worked row to four decimals', () => {
  const row = [
    [0, 9.6443],
    [12, 8.9361],
    [24, 7.3424],
    [30, 6.25],
    [48, 3.5639],
    [72, 2.6108],
  ] as const;
  for (const [hours, plato] of row) expect(gravityOnCurve(worked, hours)).toBeCloseTo(plato, 4);
});

test('greatestRate(shape) and tangentHours(shape) agree with the worked row', () => {
  expect(greatestRate(worked)).toBeCloseTo(0.1875, 12);
  expect(tangentHours(worked).lagHours).toBeCloseTo(10, 12);
  expect(tangentHours(worked).endHours).toBeCloseTo(50, 12);
});

test('hoursToGravity(shape, level) agrees with the worked t10, t90 and t95', () => {
  expect(hoursToGravity(worked, 9.25)).toBeCloseTo(8.03, 2);
  expect(hoursToGravity(worked, 3.25)).toBeCloseTo(51.97, 2);
  expect(hoursToGravity(worked, 2.875)).toBeCloseTo(59.44, 2);
});

test('hoursToGravity(shape, level) inverts gravityOnCurve at any asymmetry', () => {
  for (const asymmetry of [0.3, 1, 4]) {
    for (const hours of [-5, 0, 12, 30, 80]) {
      const level = gravityOnCurve(skewed(asymmetry), hours);
      expect(hoursToGravity(skewed(asymmetry), level)).toBeCloseTo(hours, 9);
    }
  }
});

test('gravityOnCurve(shape, M) is half way at any asymmetry', () => {
  for (const asymmetry of [0.2, 0.7, 1, 3, 9]) {
    expect(gravityOnCurve(skewed(asymmetry), 30)).toBeCloseTo(6.25, 10);
  }
});

test('greatestRate(shape) is the steepest slope found by walking an asymmetric curve', () => {
  const shape = skewed(0.4);
  let steepest = 0;
  for (let hours = 0; hours < 100; hours += 0.01) {
    const fall = (gravityOnCurve(shape, hours) - gravityOnCurve(shape, hours + 0.01)) / 0.01;
    steepest = Math.max(steepest, fall);
  }
  expect(steepest).toBeCloseTo(greatestRate(shape), 7);
});

test('gravityOnCurve(shape, hours) stays finite far outside the ferment', () => {
  expect(gravityOnCurve(worked, 1e6)).toBe(2.5);
  expect(gravityOnCurve(worked, -1e6)).toBe(10);
});

test('hoursToGravity(shape, level) is undefined outside the asymptotes', () => {
  expect(hoursToGravity(worked, 10)).toBe(undefined);
  expect(hoursToGravity(worked, 2.5)).toBe(undefined);
  expect(hoursToGravity(worked, NaN)).toBe(undefined);
});

test('gravityOnCurve(shape, hours) refuses a rate or asymmetry that is not positive', () => {
  expect(() => gravityOnCurve({ ...worked, ratePerHour: -0.1 }, 0)).toThrow(/ratePerHour/);
  expect(() => gravityOnCurve({ ...worked, asymmetry: NaN }, 0)).toThrow(/asymmetry/);
});
