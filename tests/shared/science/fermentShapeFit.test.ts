import { expect, test } from 'vitest';
import { gravityOnCurve } from '#shared/science/fermentLogistic.ts';
import { fitShape } from '#shared/science/fermentShapeFit.ts';

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
      expect(found?.estimates.midpointHours.value).toBeCloseTo(midpointHours, 5);
      expect(found?.estimates.ratePerHour.value).toBeCloseTo(ratePerHour, 6);
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
  expect(fitShape(readings, true)?.estimates.asymmetry.value).toBeCloseTo(0.5, 5);
});

test('fitShape(readings) refuses too few readings', () => {
  expect(() => fitShape([{ hours: 0, gravitySg: 1.04 }], false)).toThrow(RangeError);
});
