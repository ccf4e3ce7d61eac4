import { expect, test } from 'vitest';
import {
  type CellCount,
  CHAMBER_CV,
  checkCount,
  dilutionShares,
  errorsOf,
  fillingCv,
  PIPETTING_CV,
  stepsOf,
} from '#shared/science/countSetup.ts';

const filling = { squares: [40, 41], dilutionFactor: 100 };
const count: CellCount = { fillings: [filling, filling], squareAreaMm2: 0.04, depthMm: 0.1 };
const apart: CellCount = {
  ...count,
  fillings: [
    { ...filling, dilution: 1 },
    { ...filling, dilution: 2 },
  ],
};

// Berkson, Magath & Hurn 1939, from memory: 4.6 % a chamber, 4.7 % a pipetting.
test('the remembered errors stand until a brewery gives its own', () => {
  expect(errorsOf(count)).toEqual({ chamberCv: 0.046, pipettingCv: 0.047 });
  const own = { chamberCv: 0.03, pipettingCv: 0.02 };
  expect(errorsOf({ ...count, errors: own })).toBe(own);
});

test('sides of one dilution differ by the chamber, of two by the pipetting too', () => {
  expect(fillingCv(count)).toBeCloseTo(CHAMBER_CV, 15);
  expect(fillingCv(apart)).toBeCloseTo(Math.hypot(CHAMBER_CV, PIPETTING_CV), 15);
});

test('fillings share the dilution they were drawn from', () => {
  expect(dilutionShares(count, [0.5, 0.5])).toEqual([1]);
  expect(dilutionShares(apart, [0.25, 0.75])).toEqual([0.25, 0.75]);
});

test('a diluted sample was pipetted once unless said otherwise', () => {
  expect(stepsOf(count)).toBe(1);
  expect(stepsOf({ ...count, pipettingSteps: 3 })).toBe(3);
  expect(stepsOf({ ...count, fillings: [{ squares: [9], dilutionFactor: 1 }] })).toBe(0);
});

test('checkCount(count) refuses errors below 0', () => {
  expect(() => checkCount(count)).not.toThrow();
  const errors = { chamberCv: -0.1, pipettingCv: 0 };
  expect(() => checkCount({ ...count, errors })).toThrow('chamberCv must be >= 0, got -0.1');
  expect(() => checkCount({ ...count, pipettingSteps: Number.NaN })).toThrow(RangeError);
});
