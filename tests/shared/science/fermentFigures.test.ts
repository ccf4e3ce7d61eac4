import { expect, test } from 'vitest';
import { fermentFigures } from '#shared/science/fermentFigures.ts';

const shapeOf = ([midpointHours = NaN]: readonly number[]) => ({
  initial: 40,
  end: 10,
  midpointHours,
  ratePerHour: 0.1,
  asymmetry: 1,
});

test('fermentFigures(shape, parameters, covariance) carries an error in the midpoint to the times', () => {
  const figures = fermentFigures(shapeOf, [30], [[4]]);
  expect(figures.halfTimeHours?.value).toBeCloseTo(30, 9);
  expect(figures.halfTimeHours?.standardError).toBeCloseTo(2, 8);
  expect(figures.lagHours?.value).toBeCloseTo(10, 9);
  expect(figures.lagHours?.standardError).toBeCloseTo(2, 8);
  // The steepest fall, 0.1 x 30 / 4, does not depend on the midpoint.
  expect(figures.greatestRateDegreesPerHour?.value).toBeCloseTo(0.75, 12);
  expect(figures.greatestRateDegreesPerHour?.standardError).toBeCloseTo(0, 9);
});

test('fermentFigures(shape, parameters, covariance) leaves out what the wort never passed', () => {
  expect(fermentFigures(shapeOf, [30], [[4]]).hours1040to1020).toBe(undefined);
});

test('fermentFigures(…, originalDegrees) counts the half way from the original gravity', () => {
  const figures = fermentFigures(shapeOf, [30], [[4]], 39);
  expect(figures.halfTimeHours?.value).toBeCloseTo(30 + 10 * Math.log(15.5 / 14.5), 6);
});
