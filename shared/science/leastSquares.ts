import { centralDifferences } from './centralDifferences.ts';
import { type LeastSquaresFit, summaryOfFit } from './leastSquaresSummary.ts';
import { normalEquations, weightedSquares } from './normalEquations.ts';
import { refuse } from './refusal.ts';
import { solveSymmetric } from './symmetricMatrix.ts';
import { valueAt } from './valueAt.ts';

type LeastSquaresProblem = {
  observed: readonly number[];
  /** Predictions in the order of the observations. */
  predict: (parameters: readonly number[]) => readonly number[];
  start: readonly number[];
  /** One row per observation, one column per parameter; central differences when absent. */
  jacobian?: (parameters: readonly number[]) => readonly (readonly number[])[];
  /** Multiply the squared residuals: 1 / variance, in units of the residual variance. */
  weights?: readonly number[];
  maxIterations?: number;
};

type Point = { parameters: readonly number[]; residuals: number[]; sumOfSquares: number };

/** An undamped step smaller than this share of every parameter ends the search. */
const CONVERGED_BELOW = 1e-10;
const LARGEST_DAMPING = 1e14;

/**
 * Nonlinear least squares by the method of Levenberg and Marquardt.
 *
 *   minimise S(p) = sum of w (y - f(p))^2;  (J'WJ + lambda diag(J'WJ)) step = J'W r
 *   covariance = s^2 (J'WJ)^-1 with s^2 = S / (n - p)
 *
 * @param problem  observations, model, starting values, and if wanted Jacobian and weights
 * @returns the fit; `converged` is false when no minimum was reached, and the standard errors are
 *   Infinity when the data do not determine every parameter
 * @throws RangeError with fewer observations than parameters + 1, or a value that is not finite
 *
 * A step that does not lower S is rejected and the damping raised. R^2 is about the weighted mean.
 * Source: [Marquardt1963]; [BatesWatts1988], 2.2.
 */
export function leastSquaresFit(problem: LeastSquaresProblem): LeastSquaresFit {
  const { observed, start, maxIterations = 500 } = problem;
  const weights = problem.weights ?? observed.map(() => 1);
  requireSound(problem, weights);
  const slopes = problem.jacobian ?? centralDifferences(problem.predict, start);
  const floor = 1e-30 * weightedSquares(observed, weights);
  let here = pointAt(problem, weights, start);
  let damping = 1e-3;
  let converged = here.sumOfSquares <= floor;
  let iterations = 0;
  while (!converged && iterations < maxIterations) {
    iterations++;
    const { normal, gradient } = normalEquations(slopes(here.parameters), here.residuals, weights);
    const found = improvement(problem, weights, here, normal, gradient, damping);
    if (found === undefined) {
      converged = relativeOffset(normal, gradient, here.sumOfSquares) < 1e-5;
      break;
    }
    converged = found.isFinal || found.point.sumOfSquares <= floor;
    here = found.point;
    damping = found.damping;
  }
  const { parameters, residuals } = here;
  const jacobian = slopes(parameters);
  return summaryOfFit({
    observed,
    weights,
    parameters,
    residuals,
    jacobian,
    converged,
    iterations,
  });
}

function requireSound({ observed, start }: LeastSquaresProblem, weights: readonly number[]) {
  if (!(observed.length > start.length)) {
    refuse('leastSquaresFit', 'observations must outnumber the parameters', observed.length);
  }
  if (weights.length !== observed.length || !weights.every((w) => w > 0 && w < Infinity)) {
    refuse('leastSquaresFit', 'weights must be > 0, one for each observation', weights);
  }
  if (!observed.every(Number.isFinite)) {
    refuse('leastSquaresFit', 'observed must be finite', observed);
  }
}

function pointAt(
  { observed, predict, start }: LeastSquaresProblem,
  weights: readonly number[],
  parameters: readonly number[],
): Point {
  const predicted = predict(parameters);
  if (parameters === start && !predicted.every(Number.isFinite)) {
    refuse('leastSquaresFit', 'the model must be finite at the start', predicted);
  }
  const residuals = observed.map((y, i) => y - valueAt(predicted, i));
  const sumOfSquares = weightedSquares(residuals, weights);
  return { parameters, residuals, sumOfSquares };
}

function improvement(
  problem: LeastSquaresProblem,
  weights: readonly number[],
  here: Point,
  normal: number[][],
  gradient: number[],
  startDamping: number,
) {
  for (let damping = startDamping; damping < LARGEST_DAMPING; damping *= 4) {
    const damped = normal.map((row, i) => row.map((v, j) => (i === j ? v * (1 + damping) : v)));
    const step = solveSymmetric(damped, gradient);
    if (step === undefined) continue;
    const point = pointAt(
      problem,
      weights,
      here.parameters.map((parameter, i) => parameter + valueAt(step, i)),
    );
    if (!(point.sumOfSquares < here.sumOfSquares)) continue;
    const sizes = step.map((move, i) => Math.abs(move / valueAt(point.parameters, i)));
    const relativeStep = Math.max(...sizes.map((size) => (Number.isNaN(size) ? 0 : size)));
    const isFinal = damping < 1 && relativeStep < CONVERGED_BELOW;
    return { point, isFinal, damping: Math.max(damping / 10, 1e-15) };
  }
  return undefined;
}

/** Length of the step still to be made against the scatter, of Bates and Watts. */
function relativeOffset(normal: number[][], gradient: number[], sumOfSquares: number): number {
  const step = solveSymmetric(normal, gradient);
  if (step === undefined) return Infinity;
  const gain = step.reduce((sum, move, i) => sum + move * valueAt(gradient, i), 0);
  return sumOfSquares > 0 ? Math.sqrt(gain / sumOfSquares) : 0;
}
