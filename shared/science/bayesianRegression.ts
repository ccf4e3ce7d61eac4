import { normalEquations } from './normalEquations.ts';
import { refuse, requirePositive } from './refusal.ts';
import { inverseOfSymmetric } from './symmetricMatrix.ts';
import { valueAt } from './valueAt.ts';

/** What is believed before any data: each coefficient with its spread, and the scatter round the line. */
export type RegressionPrior = {
  coefficients: readonly { mean: number; sd: number }[];
  residualSd: number;
  /** How many observations the believed scatter is worth. */
  residualWeight: number;
};

export type RegressionPosterior = {
  coefficients: number[];
  /** In units of the residual variance. */
  unscaledCovariance: number[][];
  residualSd: number;
  degreesOfFreedom: number;
  residuals: number[];
};

/**
 * Linear regression that starts from a belief and leaves it as data come in (conjugate normal model).
 *
 *   V = (V0^-1 + X'X)^-1,  m = V (V0^-1 m0 + X'y),  df = w0 + n
 *   df s^2 = w0 s0^2 + |y - Xm|^2 + (m - m0)' V0^-1 (m - m0)
 *
 * @param rows  X, one row per observation; may be empty
 * @param observed  y, one for each row
 * @param prior  beliefs; every sd and weight > 0
 * @returns the posterior; with no rows it is the prior
 * @throws RangeError outside the bounds above
 *
 * V0 is the diagonal of (sd / s0)^2. Source: [Gelman2013], 14.8.
 */
export function bayesianRegression(
  rows: readonly (readonly number[])[],
  observed: readonly number[],
  prior: RegressionPrior,
): RegressionPosterior {
  const { coefficients: believed, residualSd, residualWeight } = prior;
  requirePositive('bayesianRegression', 'residualSd', residualSd);
  requirePositive('bayesianRegression', 'residualWeight', residualWeight);
  for (const { sd } of believed) requirePositive('bayesianRegression', 'sd', sd);
  if (rows.length !== observed.length || !rows.flat().concat(observed).every(Number.isFinite)) {
    refuse('bayesianRegression', 'rows and observed must be finite and match', observed);
  }
  const weights = [...believed.map(({ sd }) => (residualSd / sd) ** 2), ...rows.map(() => 1)];
  const pseudoRows = believed.map((_, i) => believed.map((_row, j) => (i === j ? 1 : 0)));
  const targets = [...believed.map(({ mean }) => mean), ...observed];
  const design = [...pseudoRows, ...rows];
  const { normal, gradient } = normalEquations(design, targets, weights);
  const unscaledCovariance = inverseOfSymmetric(normal);
  if (unscaledCovariance === undefined) {
    return refuse('bayesianRegression', 'prior must be proper', believed.length);
  }
  const coefficients = unscaledCovariance.map((row) => product(row, gradient));
  const misses = design.map((row, i) => valueAt(targets, i) - product(row, coefficients));
  const spread = misses.reduce((sum, miss, i) => sum + valueAt(weights, i) * miss * miss, 0);
  const degreesOfFreedom = residualWeight + rows.length;
  return {
    coefficients,
    unscaledCovariance,
    residualSd: Math.sqrt((residualWeight * residualSd ** 2 + spread) / degreesOfFreedom),
    degreesOfFreedom,
    residuals: misses.slice(believed.length),
  };
}

/**
 * What the regression foretells for one new observation: Student's t round a centre.
 *
 *   centre = x'm,  scale = s sqrt(1 + x'Vx)
 *
 * @param posterior  as `bayesianRegression` returns it
 * @param row  x of the new observation
 * @returns centre, scale and degrees of freedom
 * @throws RangeError when x has the wrong length
 *
 * Source: [Gelman2013], 14.3.
 */
export function foretold(posterior: RegressionPosterior, row: readonly number[]) {
  const { coefficients, unscaledCovariance, residualSd, degreesOfFreedom } = posterior;
  if (row.length !== coefficients.length) refuse('foretold', 'row must fit the model', row.length);
  const doubt = product(
    row,
    unscaledCovariance.map((line) => product(line, row)),
  );
  const centre = product(row, coefficients);
  return { centre, scale: residualSd * Math.sqrt(1 + doubt), degreesOfFreedom };
}

function product(a: readonly number[], b: readonly number[]): number {
  return a.reduce((sum, value, i) => sum + value * valueAt(b, i), 0);
}
