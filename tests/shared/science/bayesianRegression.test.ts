import { expect, test } from 'vitest';
import { bayesianRegression, foretold } from '#shared/science/bayesianRegression.ts';

// Surviving marine bacteria (hundreds) after 1 to 15 intervals of X-rays, Chatterjee and Price.
const survivors = [355, 211, 197, 166, 142, 106, 104, 60, 56, 38, 36, 32, 21, 19, 15];
const rows = survivors.map((_, i) => Object.freeze([1, i + 1]));
const logs = survivors.map(Math.log);
const vague = { mean: 0, sd: 1e5 };

test('bayesianRegression(rows, y, vague prior) agrees with the published least-squares line', () => {
  const prior = { coefficients: [vague, vague], residualSd: 0.1, residualWeight: 1e-9 };
  const fit = bayesianRegression(rows, logs, prior);
  // Published: constant 5.97316, slope -.218425, S .110016 on 13 df.
  expect(fit.coefficients[0]).toBeCloseTo(5.97316, 5);
  expect(fit.coefficients[1]).toBeCloseTo(-0.218425, 6);
  expect(fit.residualSd * Math.sqrt(15 / 13)).toBeCloseTo(0.110016, 6);
  // Standard error of the slope .006575.
  const slopeVariance = fit.unscaledCovariance[1]?.[1] ?? NaN;
  expect(0.110016 * Math.sqrt(slopeVariance)).toBeCloseTo(0.006575, 6);
});

test('bayesianRegression([], [], prior) is the prior', () => {
  const prior = {
    coefficients: [{ mean: 3, sd: 0.4 }],
    residualSd: 0.3,
    residualWeight: 5,
  };
  const belief = foretold(bayesianRegression([], [], prior), [1]);
  expect(belief.centre).toBeCloseTo(3, 12);
  expect(belief.scale).toBeCloseTo(0.5, 12);
  expect(belief.degreesOfFreedom).toBe(5);
});

test('bayesianRegression(ones, y, prior) is the precision-weighted mean of belief and data', () => {
  // Belief 10 with sd 1 against four observations of scatter 2: weights 1 and 4 / 4.
  const prior = { coefficients: [{ mean: 10, sd: 1 }], residualSd: 2, residualWeight: 3 };
  const fit = bayesianRegression([[1], [1], [1], [1]], [14, 14, 14, 14], prior);
  expect(fit.coefficients[0]).toBeCloseTo(12, 12);
});

test('bayesianRegression(rows, y, prior) refuses what does not match', () => {
  const prior = { coefficients: [vague], residualSd: 1, residualWeight: 1 };
  expect(() => bayesianRegression([[1]], [], prior)).toThrow(/match/);
  expect(() => bayesianRegression([[1]], [NaN], prior)).toThrow(/finite/);
  expect(() => bayesianRegression([], [], { ...prior, residualSd: 0 })).toThrow(/residualSd/);
  expect(() => foretold(bayesianRegression([], [], prior), [1, 2])).toThrow(/row/);
});
