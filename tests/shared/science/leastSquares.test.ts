import { expect, test } from 'vitest';
import { leastSquaresFit } from '#shared/science/leastSquares.ts';
import { valueAt } from '#shared/science/valueAt.ts';
import misra1a from '../../reference/nistMisra1a.json' with { type: 'json' };
import nelson from '../../reference/nistNelson.json' with { type: 'json' };
import rat42 from '../../reference/nistRat42.json' with { type: 'json' };
import rat43 from '../../reference/nistRat43.json' with { type: 'json' };
import ryegrass from '../../reference/ryegrassDecline.json' with { type: 'json' };
import { relativeError } from '../../support/relativeError.ts';

type Parameters = readonly number[];
const column = (rows: number[][], index: number) => rows.map((row) => valueAt(row, index));

function expectCertified(
  certified: typeof rat42,
  model: (parameters: Parameters, row: number[]) => number,
  observed = column(certified.data, 0),
) {
  expect(certified.starts).toHaveLength(2);
  for (const start of certified.starts) {
    const fit = leastSquaresFit({
      observed,
      predict: (parameters) => certified.data.map((row) => model(parameters, row)),
      start,
    });
    expect(fit.converged).toBe(true);
    for (const [i, parameter] of certified.parameters.entries()) {
      expect(relativeError(valueAt(fit.parameters, i), parameter)).toBeLessThan(
        certified.tolerance,
      );
      const certifiedError = valueAt(certified.standardErrors, i);
      expect(relativeError(valueAt(fit.standardErrors, i), certifiedError)).toBeLessThan(
        certified.standardErrorTolerance,
      );
    }
    expect(relativeError(fit.residualSd, certified.residualSd)).toBeLessThan(1e-8);
  }
}

test('leastSquaresFit(problem) meets the certified values of NIST Rat42', () => {
  expectCertified(
    rat42,
    ([b1 = NaN, b2 = NaN, b3 = NaN], [, x = NaN]) => b1 / (1 + Math.exp(b2 - b3 * x)),
  );
});

test('leastSquaresFit(problem) meets the certified values of NIST Rat43', () => {
  expectCertified(
    rat43,
    ([b1 = NaN, b2 = NaN, b3 = NaN, b4 = NaN], [, x = NaN]) =>
      b1 / (1 + Math.exp(b2 - b3 * x)) ** (1 / b4),
  );
});

test('leastSquaresFit(problem) meets the certified values of NIST Misra1a', () => {
  expectCertified(misra1a, ([b1 = NaN, b2 = NaN], [, x = NaN]) => b1 * (1 - Math.exp(-b2 * x)));
});

test('leastSquaresFit(problem) meets the certified values of NIST Nelson', () => {
  expectCertified(
    nelson,
    ([b1 = NaN, b2 = NaN, b3 = NaN], [, weeks = NaN, temp = NaN]) =>
      b1 - b2 * weeks * Math.exp(-b3 * temp),
    column(nelson.data, 0).map(Math.log),
  );
});

const ryegrassProblem = {
  observed: column(ryegrass.data, 1),
  predict: ([b = NaN, c = NaN, d = NaN, e = NaN]: Parameters) =>
    column(ryegrass.data, 0).map((x) => c + (d - c) / (1 + (x / e) ** b)),
  start: [1, 0, 8, 4],
};

test('leastSquaresFit(problem) agrees with R on a falling four-parameter logistic', () => {
  const fit = leastSquaresFit(ryegrassProblem);
  const { parameters, standardErrors, residualSd, covarianceDE, varianceE } = ryegrass.logistic;
  expect(fit.converged).toBe(true);
  for (const [i, parameter] of parameters.entries()) {
    // Printed to seven decimals.
    expect(fit.parameters[i]).toBeCloseTo(parameter, 7);
    expect(fit.standardErrors[i]).toBeCloseTo(valueAt(standardErrors, i), 7);
  }
  expect(relativeError(fit.residualSd, residualSd)).toBeLessThan(1e-8);
  expect(relativeError(valueAt(valueAt(fit.covariance, 2), 3), covarianceDE)).toBeLessThan(1e-7);
  expect(relativeError(valueAt(valueAt(fit.covariance, 3), 3), varianceE)).toBeLessThan(1e-7);
});

test('leastSquaresFit(problem) agrees with R on a Gompertz decline', () => {
  const fit = leastSquaresFit({
    ...ryegrassProblem,
    predict: ([b = NaN, c = NaN, d = NaN, e = NaN]) =>
      column(ryegrass.data, 0).map((x) => c + (d - c) * Math.exp(-Math.exp(b * (x - e)))),
  });
  for (const [i, parameter] of ryegrass.gompertz.parameters.entries()) {
    expect(relativeError(valueAt(fit.parameters, i), parameter)).toBeLessThan(1e-8);
  }
});

test('leastSquaresFit(problem) with an analytic Jacobian and weights is weighted regression', () => {
  const x = [0, 1, 2, 3];
  const fit = leastSquaresFit({
    observed: [1, 3, 5, 9],
    predict: ([a = NaN, b = NaN]) => x.map((value) => a + b * value),
    jacobian: () => x.map((value) => [1, value]),
    weights: [4, 1, 1, 4],
    start: [1, 1],
  });
  // By hand: means 1.5 and 4.8, sum of w(x - 1.5)^2 = 18.5, of w(x - 1.5)(y - 4.8) = 49.
  expect(fit.parameters[1]).toBeCloseTo(49 / 18.5, 12);
  expect(fit.parameters[0]).toBeCloseTo(4.8 - (1.5 * 49) / 18.5, 12);
});

test('leastSquaresFit(problem) says so when the data cannot tell two parameters apart', () => {
  const fit = leastSquaresFit({
    observed: [1, 2, 3, 4.1],
    predict: ([a = NaN, b = NaN]) => [1, 2, 3, 4].map((x) => (a + b) * x),
    start: [1, 1],
  });
  expect(fit.converged).toBe(false);
  expect(fit.standardErrors).toEqual([Infinity, Infinity]);
});

test('leastSquaresFit(problem) returns a fit that ran out of iterations as not converged', () => {
  const fit = leastSquaresFit({ ...ryegrassProblem, maxIterations: 2 });
  expect(fit).toMatchObject({ converged: false, iterations: 2 });
});

test('leastSquaresFit(problem) refuses too few points, NaN and weights of zero', () => {
  const line = { predict: ([a = NaN]: Parameters) => [a, a], start: [1] };
  expect(() => leastSquaresFit({ ...line, observed: [1] })).toThrow(/outnumber the parameters/);
  expect(() => leastSquaresFit({ ...line, observed: [1, NaN] })).toThrow(/must be finite/);
  expect(() => leastSquaresFit({ ...line, observed: [1, 2], weights: [1, 0] })).toThrow(/weights/);
  expect(() => leastSquaresFit({ ...line, observed: [1, 2], start: [NaN] })).toThrow(/start/);
});
