import { expect, test } from 'vitest';
import { gravityOnCurve } from '#shared/science/fermentLogistic.ts';
import { fitShape } from '#shared/science/fermentShapeFit.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const hours = Object.freeze([0, 8, 14, 20, 26, 32, 38, 44, 50, 60, 70, 80]);

test('fitShape(readings) finds its own start over the working range of ale ferments', () => {
  let fitted = 0;
  for (const midpointHours of [16, 24, 36, 48]) {
    for (const ratePerHour of [0.06, 0.1, 0.2, 0.35]) {
      const shape = { initial: 46, end: 9, midpointHours, ratePerHour, asymmetry: 1 };
      const readings = hours.map((hour) => ({
        hours: hour,
        gravitySg: 1 + gravityOnCurve(shape, hour) / 1000,
      }));
      const found = fitShape(readings, false);
      expect(found?.estimates.midpointHours.value).toBeCloseTo(midpointHours, 9);
      expect(found?.estimates.ratePerHour.value).toBeCloseTo(ratePerHour, 10);
      fitted++;
    }
  }
  expect(fitted).toBe(16);
});

test('fitShape(readings, asymmetric) recovers the asymmetry', () => {
  const shape = { initial: 46, end: 9, midpointHours: 30, ratePerHour: 0.15, asymmetry: 0.5 };
  const readings = hours.map((hour) => ({
    hours: hour,
    gravitySg: 1 + gravityOnCurve(shape, hour) / 1000,
  }));
  expect(fitShape(readings, true)?.estimates.asymmetry.value).toBeCloseTo(0.5, 9);
});

test('fitShape(readings) refuses too few readings', () => {
  expect(() => fitShape([{ hours: 0, gravitySg: 1.04 }], false)).toThrow(RangeError);
});

test('fitShape(readings) of a ferment read only half way settles no end it cannot know', () => {
  const shape = { initial: 43, end: 10, midpointHours: 28, ratePerHour: 0.12, asymmetry: 1 };
  const random = seededRandom(17);
  let unsettled = 0;
  let settled = 0;
  for (let ferment = 0; ferment < 100; ferment++) {
    const readings = [2, 8, 14, 18, 22, 26, 30].map((hour) => ({
      hours: hour,
      gravitySg: 1 + (gravityOnCurve(shape, hour) + random.normal(0, 0.5)) / 1000,
    }));
    const found = fitShape(readings, false);
    if (found === undefined) {
      unsettled++;
      continue;
    }
    settled++;
    const { initialGravitySg, endGravitySg } = found.estimates;
    const fall = initialGravitySg.value - endGravitySg.value;
    expect(endGravitySg.standardError).toBeLessThan(fall / 4);
  }
  expect(unsettled + settled).toBe(100);
  expect(unsettled).toBeGreaterThan(50);
});

test('fitShape(readings) soon gives up on readings that never settle a curve', () => {
  const count = 100;
  let looks = 0;
  const straight = Array.from({ length: count }, (_, hour) => ({
    get hours() {
      looks++;
      return hour;
    },
    gravitySg: 1.05 - (0.04 * hour) / count,
  }));
  expect(fitShape(straight, true)).toBeUndefined();
  // Three starts of sixty steps, each with two predictions for every parameter and some trials.
  expect(looks / count).toBeLessThan(3 * 60 * (2 * 5 + 10));
});
