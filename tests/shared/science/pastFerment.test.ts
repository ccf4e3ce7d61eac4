import { expect, test } from 'vitest';
import { expectedBand } from '#shared/science/fermentBand.ts';
import { fitFermentCurve, fittedGravitySg } from '#shared/science/fermentCurve.ts';
import { gravityOnCurve } from '#shared/science/fermentLogistic.ts';
import { pastFermentOf } from '#shared/science/pastFerment.ts';

function fittedPast(asymmetry: number) {
  const shape = { initial: 42.6, end: 10, midpointHours: 28, ratePerHour: 0.14, asymmetry };
  const readings = Array.from({ length: 19 }, (_, i) => ({
    hours: 4 * i,
    // A hundredth of a degree either way, so that the residuals are not rounding alone.
    gravitySg: 1 + (gravityOnCurve(shape, 4 * i) + 0.01 * (-1) ** i) / 1000,
  }));
  const curve = fitFermentCurve(readings);
  if (curve.kind !== 'fitted') throw new Error(curve.why);
  return { curve, past: pastFermentOf(curve, { originalGravitySg: 1.042, setTempC: 16.5 }) };
}

test('pastFermentOf(curve, setting) keeps half time, rate and setting of a symmetric ferment', () => {
  const { curve, past } = fittedPast(1);
  expect(past).toMatchObject({ originalGravitySg: 1.042, setTempC: 16.5 });
  expect(past?.halfTimeHours).toBeCloseTo(curve.derived.halfTimeHours?.value ?? NaN, 9);
  expect(past?.ratePerHour).toBeCloseTo(0.14, 4);
  expect(past?.endGravitySg).toBeCloseTo(1.01, 5);
});

test('pastFermentOf(curve, setting) gives an asymmetric ferment the rate of a logistic as steep', () => {
  const { curve, past } = fittedPast(0.4);
  expect(curve.form).toBe('asymmetric');
  // Steepest fall of the asymmetric curve over that of the plain one, (s / (1 + s))^(s + 1) x 4.
  expect(past?.ratePerHour).toBeCloseTo(0.14 * 4 * (0.4 / 1.4) ** 1.4, 4);
});

test('pastFermentOf(curve, setting) of many like ferments makes a band that follows them', () => {
  const { curve, past } = fittedPast(1);
  if (past === undefined) throw new Error('no past ferment');
  const band = expectedBand({
    past: Array.from({ length: 60 }, () => past),
    target: { originalGravitySg: 1.042, setTempC: 16.5 },
    confidence: 0.95,
  });
  for (const hours of [12, 24, 36, 48, 60]) {
    expect(Math.abs(band.at(hours).mid - fittedGravitySg(curve, hours)) * 1000).toBeLessThan(0.6);
  }
});
