import { expect, test } from 'vitest';
import { hoursToProgress } from '#shared/science/fermentProgress.ts';
import { degreesAt, plausibleFerments } from '#shared/science/plausibleFerments.ts';
import { hoursToReach } from '#shared/science/runningForecast.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const pace = {
  lnHalfTime: { centre: Math.log(27), scale: 0.08, degreesOfFreedom: 200 },
  lnRate: { centre: Math.log(0.11), scale: 0.15, degreesOfFreedom: 200 },
  logitAttenuation: { centre: Math.log(3), scale: 0.06, degreesOfFreedom: 200 },
  correlation: 0,
};
const healthy = plausibleFerments(pace, 42);

test('hoursToReach(…) holds the true hour between its 10 and 90 % points as often as it says', () => {
  const random = seededRandom(12);
  let inside = 0;
  const count = 200;
  for (let i = 0; i < count; i++) {
    const ferment = {
      halfTimeHours: 27 * random.logNormal(0.08),
      ratePerHour: 0.11 * random.logNormal(0.15),
      originalDegrees: 42,
      endDegrees: 42 / (1 + 3 * random.logNormal(0.06)),
    };
    const readings = [12, 24, 36].map((hours) => ({
      hours,
      gravitySg: 1 + (degreesAt(ferment, hours) + random.normal(0, 0.6)) / 1000,
    }));
    const truth = hoursToProgress(ferment, (42 - 14) / (42 - ferment.endDegrees));
    const { low = Infinity, high = Infinity } = hoursToReach(readings, healthy, 1.014, 0.6);
    if (truth >= low && truth <= high) inside++;
  }
  console.log('true hour inside the 10 to 90 % points:', inside / count);
  // 80 % stated, binomial standard deviation 2.8 %; a little more, for slow ferments are kept in mind.
  expect(inside / count).toBeGreaterThan(0.73);
  expect(inside / count).toBeLessThan(0.93);
});

test('hoursToReach(…) narrows as readings come in', () => {
  const ferment = { halfTimeHours: 27, ratePerHour: 0.11, originalDegrees: 42, endDegrees: 10.5 };
  const readings = [12, 24, 36, 48].map((hours) => ({
    hours,
    gravitySg: 1 + degreesAt(ferment, hours) / 1000,
  }));
  const widths = [0, 2, 4].map((count) => {
    const { low = NaN, high = NaN } = hoursToReach(readings.slice(0, count), healthy, 1.014, 0.6);
    return high - low;
  });
  expect(widths[1]).toBeLessThan(widths[0] ?? NaN);
  expect(widths[2]).toBeLessThan(widths[1] ?? NaN);
});

test('hoursToReach(…) of a ferment stuck at half of its fall may never come', () => {
  const readings = [24, 36, 48, 60, 72].map((hours) => ({ hours, gravitySg: 1.027 }));
  expect(hoursToReach(readings, healthy, 1.014, 0.6)).toEqual({
    low: undefined,
    mid: undefined,
    high: undefined,
  });
});

test('hoursToReach(…) refuses a reading error that is not positive', () => {
  expect(() => hoursToReach([], healthy, 1.014, 0)).toThrow(/readingSdDegrees/);
});
