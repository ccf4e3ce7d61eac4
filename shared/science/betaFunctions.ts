import { lnIncompleteBeta, startingLogit } from './incompleteBeta.ts';
import { refuse, requireFraction, requirePositive } from './refusal.ts';

const MOST_STEPS = 200;
const LARGEST_STEP = 3;

/**
 * Regularised incomplete beta function.
 *
 *   I_x(a, b) = 1/B(a, b) * integral from 0 to x of t^(a-1) (1-t)^(b-1) dt
 *
 * @param x  upper end [-], 0 to 1
 * @param a  first shape [-], > 0
 * @param b  second shape [-], > 0
 * @returns probability [-], 0 to 1
 * @throws RangeError outside the bounds above
 *
 * Continued fraction on the side where it converges. Source: [AS1964], 26.5.8.
 */
export function regularisedBeta(x: number, a: number, b: number): number {
  requireFraction('regularisedBeta', 'x', x);
  return Math.exp(lnIncompleteBeta(x, 1 - x, a, b).lnLower);
}

/**
 * Quantile of the beta distribution.
 *
 *   x such that I_x(a, b) = p
 *
 * @param p  probability [-], 0 to 1
 * @param a  first shape [-], > 0
 * @param b  second shape [-], > 0
 * @returns quantile [-], 0 to 1
 * @throws RangeError outside the bounds above
 *
 * Newton steps on ln I against the logit of x, where ln I is concave. Source: [AS1964], 26.5.
 */
export function betaQuantile(p: number, a: number, b: number): number {
  requirePositive('betaQuantile', 'a', a);
  requirePositive('betaQuantile', 'b', b);
  return betaQuantilePair(p, a, b).x;
}

/**
 * Quantile of Student's t distribution.
 *
 *   t = sqrt(df (1 - x) / x) with I_x(df/2, 1/2) = 2 (1 - p) for p > 1/2
 *
 * @param p  probability [-], between 0 and 1
 * @param degreesOfFreedom  [-], > 0
 * @returns quantile [-]
 * @throws RangeError outside the bounds above
 *
 * Source: [AS1964], 26.7.
 */
export function studentTQuantile(p: number, degreesOfFreedom: number): number {
  if (!(p > 0 && p < 1)) refuse('studentTQuantile', 'p must be between 0 and 1', p);
  requirePositive('studentTQuantile', 'degreesOfFreedom', degreesOfFreedom);
  if (p === 0.5) return 0;
  if (p > 0.5) return -studentTQuantile(1 - p, degreesOfFreedom);
  const { x, y } =
    p < 0.25
      ? betaQuantilePair(2 * p, degreesOfFreedom / 2, 0.5)
      : swapped(betaQuantilePair(1 - 2 * p, 0.5, degreesOfFreedom / 2));
  return -Math.sqrt((degreesOfFreedom * y) / x);
}

/**
 * Chance that Student's t exceeds a value.
 *
 *   I_x(df/2, 1/2) / 2 with x = df / (df + t^2), for t > 0
 *
 * @param t  value [-], finite
 * @param degreesOfFreedom  [-], > 0
 * @returns probability [-], 0 to 1
 * @throws RangeError outside the bounds above
 *
 * Source: [AS1964], 26.7.
 */
export function studentTUpperTail(t: number, degreesOfFreedom: number): number {
  if (!Number.isFinite(t)) refuse('studentTUpperTail', 't must be finite', t);
  requirePositive('studentTUpperTail', 'degreesOfFreedom', degreesOfFreedom);
  if (t < 0) return 1 - studentTUpperTail(-t, degreesOfFreedom);
  const total = degreesOfFreedom + t * t;
  const { lnLower } = lnIncompleteBeta(
    degreesOfFreedom / total,
    (t * t) / total,
    degreesOfFreedom / 2,
    0.5,
  );
  return Math.exp(lnLower) / 2;
}

/**
 * Chance that Fisher's F exceeds a value.
 *
 *   I_x(df2/2, df1/2) with x = df2 / (df2 + df1 f)
 *
 * @param f  value [-], >= 0
 * @param numeratorDf  df1 [-], > 0
 * @param denominatorDf  df2 [-], > 0
 * @returns probability [-], 0 to 1
 * @throws RangeError outside the bounds above
 *
 * Source: [AS1964], 26.6.
 */
export function fUpperTail(f: number, numeratorDf: number, denominatorDf: number): number {
  if (!(f >= 0 && f < Infinity)) refuse('fUpperTail', 'f must be >= 0', f);
  const total = denominatorDf + numeratorDf * f;
  const x = denominatorDf / total;
  const y = (numeratorDf * f) / total;
  return Math.exp(lnIncompleteBeta(x, y, denominatorDf / 2, numeratorDf / 2).lnLower);
}

/** The quantile with its complement, which would be lost by subtraction near 1. */
function betaQuantilePair(p: number, a: number, b: number): { x: number; y: number } {
  requireFraction('betaQuantile', 'p', p);
  if (p === 0) return { x: 0, y: 1 };
  if (p > 0.5) return swapped(betaQuantilePair(1 - p, b, a));
  const lnTarget = Math.log(p);
  let logit = startingLogit(p, a, b);
  for (let step = 0; step < MOST_STEPS; step++) {
    const { lnLower, lnDensity } = lnIncompleteBeta(...sharesOfLogit(logit), a, b);
    const change = (lnTarget - lnLower) / Math.exp(lnDensity - lnLower);
    logit += Math.max(-LARGEST_STEP, Math.min(LARGEST_STEP, change));
    if (Math.abs(change) < 1e-15 * Math.max(1, Math.abs(logit))) break;
  }
  const [x, y] = sharesOfLogit(logit);
  return { x, y };
}

function swapped({ x, y }: { x: number; y: number }) {
  return { x: y, y: x };
}

function sharesOfLogit(logit: number): [number, number] {
  return [1 / (1 + Math.exp(-logit)), 1 / (1 + Math.exp(logit))];
}
