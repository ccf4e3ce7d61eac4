import { studentTQuantile } from './betaFunctions.ts';
import { refuse, requireConfidence } from './refusal.ts';
import { valueAt } from './valueAt.ts';

type LinearFit = {
  intercept: number;
  slope: number;
  interceptStandardError: number;
  slopeStandardError: number;
  covariance: number;
  residuals: number[];
  residualSd: number;
  sumOfSquares: number;
  rSquared: number;
  degreesOfFreedom: number;
};

/**
 * Straight line by least squares, weighted if wanted.
 *
 *   slope = sum w (x - X)(y - Y) / sum w (x - X)^2;  intercept = Y - slope X;  X, Y weighted means
 *   SE of the slope = s / sqrt(sum w (x - X)^2), s^2 = sum w r^2 / (n - 2)
 *
 * @param points  x and y [any units], finite, at least three, not all at one x
 * @param weights  w, 1 / variance in units of the residual variance, > 0; all 1 when left out
 * @returns coefficients with standard errors, their covariance, residuals and scatter
 * @throws RangeError outside the bounds above
 *
 * In two passes, so that large means cost no digits. Source: [NISTStRD], linear regression.
 */
export function linearFit(
  points: readonly { x: number; y: number }[],
  weights: readonly number[] = points.map(() => 1),
): LinearFit {
  requireSound(points, weights);
  const weighted = (value: (point: { x: number; y: number }) => number) =>
    points.reduce((sum, point, i) => sum + valueAt(weights, i) * value(point), 0);
  const total = weights.reduce((sum, weight) => sum + weight, 0);
  const meanX = weighted(({ x }) => x) / total;
  const meanY = weighted(({ y }) => y) / total;
  const spread = weighted(({ x }) => (x - meanX) ** 2);
  if (!(spread > 0)) refuse('linearFit', 'x must not all be the same', meanX);
  const slope = weighted(({ x, y }) => (x - meanX) * (y - meanY)) / spread;
  const intercept = meanY - slope * meanX;
  const residual = ({ x, y }: { x: number; y: number }) => y - meanY - slope * (x - meanX);
  const sumOfSquares = weighted((point) => residual(point) ** 2);
  const degreesOfFreedom = points.length - 2;
  const variance = sumOfSquares / degreesOfFreedom;
  const about = weighted(({ y }) => (y - meanY) ** 2);
  return {
    intercept,
    slope,
    interceptStandardError: Math.sqrt(variance * (1 / total + meanX ** 2 / spread)),
    slopeStandardError: Math.sqrt(variance / spread),
    covariance: (-meanX * variance) / spread,
    residuals: points.map(residual),
    residualSd: Math.sqrt(variance),
    sumOfSquares,
    rSquared: about > 0 ? 1 - sumOfSquares / about : 0,
    degreesOfFreedom,
  };
}

/**
 * Limits of the slope of a fitted line.
 *
 *   slope -+ t(n - 2) SE
 *
 * @param fit  as `linearFit` returns it
 * @param confidence  [-], between 0 and 1
 * @returns lower and upper limit [y/x]
 * @throws RangeError outside the bounds above
 *
 * Source: [NISTStRD].
 */
export function slopeInterval(fit: LinearFit, confidence = 0.95): { low: number; high: number } {
  requireConfidence('slopeInterval', confidence);
  const reach =
    studentTQuantile((1 + confidence) / 2, fit.degreesOfFreedom) * fit.slopeStandardError;
  return { low: fit.slope - reach, high: fit.slope + reach };
}

function requireSound(
  points: readonly { x: number; y: number }[],
  weights: readonly number[],
): void {
  if (points.length < 3) refuse('linearFit', 'points must be at least three', points.length);
  if (!points.every(({ x, y }) => Number.isFinite(x) && Number.isFinite(y))) {
    refuse('linearFit', 'points must be finite', points);
  }
  if (weights.length !== points.length || !weights.every((w) => w > 0 && w < Infinity)) {
    refuse('linearFit', 'weights must be > 0, one for each point', weights);
  }
}
