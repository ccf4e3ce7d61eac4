import { expect, test } from 'vitest';
import { fitFermentCurve, fittedGravitySg } from '#shared/science/fermentCurve.ts';
import { type FermentShape, gravityOnCurve } from '#shared/science/fermentLogistic.ts';
import type { GravityReading } from '#shared/science/fermentReadings.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const house: FermentShape = {
  initial: 43,
  end: 10,
  midpointHours: 28,
  ratePerHour: 0.12,
  asymmetry: 1,
};

function readingsOf(shape: FermentShape, hours: readonly number[], noise = () => 0) {
  return hours.map((hour): GravityReading => {
    const gravitySg = 1 + (gravityOnCurve(shape, hour) + noise()) / 1000;
    return Object.freeze({ hours: hour, gravitySg });
  });
}

function fitted(readings: readonly GravityReading[], originalGravitySg?: number) {
  const curve = fitFermentCurve(readings, originalGravitySg ? { originalGravitySg } : {});
  if (curve.kind !== 'fitted') throw new Error(curve.why);
  return curve;
}

const twiceDaily = [2, 10, 20, 26, 34, 44, 50, 58, 68, 74];

test('fitFermentCurve(readings) recovers the parameters that made clean readings', () => {
  const { parameters, form, rSquared } = fitted(readingsOf(house, twiceDaily));
  expect(form).toBe('symmetric');
  expect(parameters.initialGravitySg.value).toBeCloseTo(1.043, 9);
  expect(parameters.endGravitySg.value).toBeCloseTo(1.01, 9);
  expect(parameters.midpointHours.value).toBeCloseTo(28, 9);
  expect(parameters.ratePerHour.value).toBeCloseTo(0.12, 10);
  expect(rSquared).toBeCloseTo(1, 12);
});

test('fitFermentCurve(readings) derives the worked times from the fitted curve', () => {
  const { derived } = fitted(readingsOf(house, twiceDaily));
  expect(derived.lagHours?.value).toBeCloseTo(28 - 2 / 0.12, 9);
  expect(derived.greatestRateDegreesPerHour?.value).toBeCloseTo((0.12 * 33) / 4, 9);
  expect(derived.halfTimeHours?.value).toBeCloseTo(28, 9);
  expect(derived.timeToWithinOneDegreeHours?.value).toBeCloseTo(28 + Math.log(32) / 0.12, 9);
  expect(derived.plainLagHours?.value).toBeCloseTo(28 + Math.log(2 / 31) / 0.12, 9);
  const hours = (Math.log(23 / 10) - Math.log(3 / 30)) / 0.12;
  expect(derived.hours1040to1020?.value).toBeCloseTo(hours, 9);
});

test('fitFermentCurve(readings) counts lag and half time from a measured original gravity', () => {
  const { derived } = fitted(readingsOf(house, [0.5, ...twiceDaily]), 1.0425);
  expect(derived.plainLagHours?.value).toBeCloseTo(28 + Math.log(2.5 / 30.5) / 0.12, 9);
  expect(derived.halfTimeHours?.value).toBeCloseTo(28 + Math.log(16.75 / 16.25) / 0.12, 9);
});

test('fitFermentCurve(readings) covers the truth with its errors in 300 noisy ferments', () => {
  const random = seededRandom(20);
  let inside = 0;
  let endInside = 0;
  for (let ferment = 0; ferment < 300; ferment++) {
    const curve = fitted(readingsOf(house, twiceDaily, () => random.normal(0, 0.5)));
    const { halfTimeHours, endGravitySg } = curve.derived;
    // Student's t at 97.5 % on 6 degrees of freedom.
    const reach = 2.4469 * (halfTimeHours?.standardError ?? NaN);
    if (Math.abs((halfTimeHours?.value ?? NaN) - 28) < reach) inside++;
    const endReach = 2.4469 * (endGravitySg?.standardError ?? NaN);
    if (Math.abs((endGravitySg?.value ?? NaN) - 1.01) < endReach) endInside++;
  }
  // 95 % of 300 is 285, standard deviation 3.8: four of them either way.
  for (const count of [inside, endInside]) {
    expect(count).toBeGreaterThan(269);
    expect(count).toBeLessThan(301);
  }
});

test('fitFermentCurve(readings) takes the asymmetric form only when it is clearly asked for', () => {
  const random = seededRandom(7);
  const dense = Array.from({ length: 19 }, (_, i) => 4 * i);
  const skewed = { ...house, asymmetry: 0.25, ratePerHour: 0.35 };
  let takenWhenPlain = 0;
  let takenWhenSkewed = 0;
  for (let ferment = 0; ferment < 100; ferment++) {
    const noise = () => random.normal(0, 0.3);
    if (fitted(readingsOf(house, dense, noise)).form === 'asymmetric') takenWhenPlain++;
    if (fitted(readingsOf(skewed, dense, noise)).form === 'asymmetric') takenWhenSkewed++;
  }
  expect(takenWhenPlain).toBeLessThanOrEqual(5);
  expect(takenWhenSkewed).toBeGreaterThanOrEqual(95);
});

test('fitFermentCurve(readings) recovers the half time of an asymmetric ferment', () => {
  const dense = Array.from({ length: 25 }, (_, i) => 3 * i);
  const random = seededRandom(11);
  const skewed = { ...house, asymmetry: 0.25, ratePerHour: 0.35 };
  const curve = fitted(readingsOf(skewed, dense, () => random.normal(0, 0.1)));
  expect(curve.form).toBe('asymmetric');
  const { halfTimeHours } = curve.derived;
  const { asymmetry } = curve.parameters;
  // Each within twice its own standard error, which itself must be small.
  expect(halfTimeHours?.standardError).toBeLessThan(0.2);
  expect(Math.abs((halfTimeHours?.value ?? NaN) - 28)).toBeLessThan(
    2 * (halfTimeHours?.standardError ?? NaN),
  );
  expect(asymmetry.standardError).toBeLessThan(0.05);
  expect(Math.abs(asymmetry.value - 0.25)).toBeLessThan(2 * (asymmetry.standardError ?? NaN));
});

test('fitFermentCurve(readings) gives crossing times only under six readings, and says so', () => {
  const few = [
    [0, 1.043],
    [24, 1.034],
    [32, 1.02],
    [60, 1.0105],
    [72, 1.01],
  ].map(([hours = NaN, gravitySg = NaN]) => ({ hours, gravitySg }));
  const curve = fitFermentCurve(few);
  expect(curve).toMatchObject({
    kind: 'crossings',
    converged: false,
    why: 'fewer than 6 readings',
  });
  expect(curve.derived.lagHours).toBe(undefined);
  // Half of the fall is 1.0265, which is 7.5 of the 14 degrees from 24 to 32 h.
  expect(curve.derived.halfTimeHours?.value).toBeCloseTo(24 + (7.5 / 14) * 8, 6);
  expect(curve.derived.halfTimeHours?.standardError).toBe(undefined);
  expect(curve.derived.plainLagHours?.value).toBeCloseTo((24 * 2) / 9, 6);
});

test('fitFermentCurve(readings) draws no curve through a ferment that has hardly begun', () => {
  const curve = fitFermentCurve(readingsOf(house, [0, 2, 4, 6, 8, 10, 12]));
  expect(curve).toMatchObject({ kind: 'crossings', why: /less than 5 degrees/ });
});

test('fitFermentCurve(readings) draws no curve through a fall that has not begun to slow', () => {
  const straight = [0, 4, 8, 12, 16, 20, 24].map((hours) => ({
    hours,
    gravitySg: 1.04 - hours / 2e3,
  }));
  expect(fitFermentCurve(straight)).toMatchObject({ kind: 'crossings', why: /do not settle/ });
});

test('fitFermentCurve(readings) passes on the notes on the readings', () => {
  const { notes } = fitted([{ hours: -3, gravitySg: 1.043 }, ...readingsOf(house, twiceDaily)]);
  expect(notes).toEqual([{ index: 0, message: 'taken before the pitch, left out' }]);
});

test('fitFermentCurve([]) and rising gravities give no curve and no figure', () => {
  expect(fitFermentCurve([])).toMatchObject({ kind: 'crossings', derived: {} });
  const rising = [1.01, 1.02, 1.03, 1.035, 1.04, 1.041, 1.042];
  const curve = fitFermentCurve(rising.map((gravitySg, i) => ({ hours: 8 * i, gravitySg })));
  expect(curve.kind).toBe('crossings');
});

test('fittedGravitySg(curve, hours) runs through clean readings', () => {
  const readings = readingsOf(house, twiceDaily);
  const curve = fitted(readings);
  for (const { hours, gravitySg } of readings) {
    expect(fittedGravitySg(curve, hours)).toBeCloseTo(gravitySg, 9);
  }
});
