import { normalEquations, weightedSquares } from './normalEquations.ts';
import { inverseOfSymmetric } from './symmetricMatrix.ts';
import { valueAt } from './valueAt.ts';

export type LeastSquaresFit = {
  parameters: number[];
  standardErrors: number[];
  covariance: number[][];
  residuals: number[];
  residualSd: number;
  rSquared: number;
  converged: boolean;
  iterations: number;
};

/**
 * What a least-squares fit tells: standard errors, scatter and share of the spread explained.
 *
 *   s^2 = S / (n - p), covariance = s^2 (J'WJ)^-1, R^2 = 1 - S / sum of w (y - weighted mean)^2
 *
 * @param end  observations, weights, and parameters, residuals and Jacobian where the search ended
 * @returns the fit; Infinity as standard errors when J'WJ cannot be inverted, then not converged
 * @throws RangeError when the lists differ in length
 *
 * Source: [BatesWatts1988], 2.2.
 */
export function summaryOfFit(end: {
  observed: readonly number[];
  weights: readonly number[];
  parameters: readonly number[];
  residuals: number[];
  jacobian: readonly (readonly number[])[];
  converged: boolean;
  iterations: number;
}): LeastSquaresFit {
  const { observed, weights, parameters, residuals, jacobian, converged, iterations } = end;
  const sumOfSquares = weightedSquares(residuals, weights);
  const variance = sumOfSquares / (observed.length - parameters.length);
  const { normal } = normalEquations(jacobian, residuals, weights);
  const inverse = inverseOfSymmetric(normal);
  const covariance =
    inverse === undefined
      ? parameters.map(() => parameters.map(() => Infinity))
      : inverse.map((row) => row.map((value) => value * variance));
  const totalWeight = weights.reduce((sum, weight) => sum + weight, 0);
  const mean = observed.reduce((sum, y, i) => sum + valueAt(weights, i) * y, 0) / totalWeight;
  const total = weightedSquares(
    observed.map((y) => y - mean),
    weights,
  );
  return {
    parameters: [...parameters],
    standardErrors: covariance.map((row, i) => Math.sqrt(valueAt(row, i))),
    covariance,
    residuals,
    residualSd: Math.sqrt(variance),
    rSquared: total > 0 ? 1 - sumOfSquares / total : 0,
    converged: converged && inverse !== undefined,
    iterations,
  };
}
