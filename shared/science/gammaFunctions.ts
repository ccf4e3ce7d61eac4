import { refuse, requireFraction, requireNotNegative, requirePositive } from './refusal.ts';
import { roughNormalQuantile } from './roughNormalQuantile.ts';
import { departure, lnGamma, stirlingError } from './stirling.ts';

export { lnGamma } from './stirling.ts';

const MOST_TERMS = 100_000;
const MOST_STEPS = 200;
const LARGEST_STEP = 3;

/**
 * Regularised incomplete gamma functions P (lower) and Q (upper), each accurate in its own tail.
 *
 *   P(a, x) = 1/Gamma(a) * integral from 0 to x of t^(a-1) e^(-t) dt,  Q = 1 - P
 *
 * @param shape  a [-], > 0
 * @param x  upper end of the integral [-], >= 0
 * @returns lower and upper probability [-], 0 to 1
 * @throws RangeError outside the bounds above
 *
 * Series below a + 1, continued fraction above it. Source: [AS1964], 6.5.29 and 6.5.31.
 */
export function regularisedGamma(shape: number, x: number): { lower: number; upper: number } {
  const { lnLower, lnUpper } = lnTails(shape, x);
  return { lower: Math.exp(lnLower), upper: Math.exp(lnUpper) };
}

/**
 * Quantile of the gamma distribution of unit scale.
 *
 *   x such that P(a, x) = p
 *
 * @param p  probability [-], 0 to 1
 * @param shape  a [-], > 0
 * @returns quantile [-]; 0 at p = 0 and Infinity at p = 1
 * @throws RangeError outside the bounds above
 *
 * Newton steps on the logarithm of the nearer tail against ln x: both tails are log-concave there,
 * so the steps settle from either side. Source: [Garwood1936] for its use on counts.
 */
export function gammaQuantile(p: number, shape: number): number {
  requireFraction('gammaQuantile', 'p', p);
  requirePositive('gammaQuantile', 'shape', shape);
  if (p === 0) return 0;
  if (p === 1) return Infinity;
  const fromBelow = p <= 0.5;
  const lnTarget = Math.log(fromBelow ? p : 1 - p);
  let lnX = Math.log(startingGamma(p, shape));
  for (let step = 0; step < MOST_STEPS; step++) {
    const { lnLower, lnUpper, lnDensity } = lnTails(shape, Math.exp(lnX));
    const lnTail = fromBelow ? lnLower : lnUpper;
    const slope = Math.exp(lnDensity - lnTail);
    const change = (fromBelow ? lnTarget - lnTail : lnTail - lnTarget) / slope;
    lnX += Math.max(-LARGEST_STEP, Math.min(LARGEST_STEP, change));
    if (Math.abs(change) < 1e-15 * Math.max(1, Math.abs(lnX))) break;
  }
  return Math.exp(lnX);
}

/**
 * Quantile of the chi-square distribution.
 *
 *   x = 2 * gammaQuantile(p, df / 2)
 *
 * @param p  probability [-], 0 to 1
 * @param degreesOfFreedom  [-], > 0
 * @returns quantile [-]
 * @throws RangeError outside the bounds above
 *
 * Source: [AS1964], 26.4.
 */
export function chiSquareQuantile(p: number, degreesOfFreedom: number): number {
  requirePositive('chiSquareQuantile', 'degreesOfFreedom', degreesOfFreedom);
  return 2 * gammaQuantile(p, degreesOfFreedom / 2);
}

/**
 * Chance that a chi-square variable exceeds a value, without loss in the far tail.
 *
 *   Q(df / 2, x / 2)
 *
 * @param x  value [-], >= 0
 * @param degreesOfFreedom  [-], > 0
 * @returns probability [-], 0 to 1
 * @throws RangeError outside the bounds above
 *
 * Source: [AS1964], 26.4.
 */
export function chiSquareUpperTail(x: number, degreesOfFreedom: number): number {
  requirePositive('chiSquareUpperTail', 'degreesOfFreedom', degreesOfFreedom);
  requireNotNegative('chiSquareUpperTail', 'x', x);
  return regularisedGamma(degreesOfFreedom / 2, x / 2).upper;
}

/** ln P, ln Q and ln(x f(x)), kept as logarithms so that no tail underflows. */
function lnTails(shape: number, x: number) {
  requirePositive('regularisedGamma', 'shape', shape);
  if (!(x >= 0)) refuse('regularisedGamma', 'x must be >= 0', x);
  if (x === 0) return { lnLower: -Infinity, lnUpper: 0, lnDensity: -Infinity };
  if (x === Infinity) return { lnLower: 0, lnUpper: -Infinity, lnDensity: -Infinity };
  const lnDensity =
    0.5 * Math.log(shape / (2 * Math.PI)) - shape * departure(x, shape) - stirlingError(shape);
  if (x < shape + 1) {
    const lnLower = lnDensity - Math.log(shape) + Math.log(lowerSeries(shape, x));
    return { lnLower, lnUpper: Math.log1p(-Math.exp(lnLower)), lnDensity };
  }
  const lnUpper = lnDensity + Math.log(upperFraction(shape, x));
  return { lnLower: Math.log1p(-Math.exp(lnUpper)), lnUpper, lnDensity };
}

function lowerSeries(shape: number, x: number): number {
  let term = 1;
  let sum = 1;
  for (let n = 1; n < MOST_TERMS && term > sum * 1e-17; n++) {
    term *= x / (shape + n);
    sum += term;
  }
  return sum;
}

function upperFraction(shape: number, x: number): number {
  let b = x + 1 - shape;
  let c = 1e300;
  let d = 1 / b;
  let h = d;
  for (let n = 1; n < MOST_TERMS; n++) {
    const numerator = n * (shape - n);
    b += 2;
    d = 1 / (numerator * d + b);
    c = b + numerator / c;
    h *= c * d;
    if (Math.abs(c * d - 1) < 1e-16) break;
  }
  return h;
}

/** The bound x^a / Gamma(a + 1) >= P from below, or Wilson and Hilferty's cube when it is higher. */
function startingGamma(p: number, shape: number): number {
  const bound = Math.exp((Math.log(p) + lnGamma(shape + 1)) / shape);
  const root = 1 - 1 / (9 * shape) + roughNormalQuantile(p) / (3 * Math.sqrt(shape));
  return Math.max(bound, root > 0 ? shape * root ** 3 : 0, Number.MIN_VALUE);
}
