import { requirePositive } from './refusal.ts';
import { roughNormalQuantile } from './roughNormalQuantile.ts';
import { departure, lnGamma, stirlingError } from './stirling.ts';

const MOST_TERMS = 100_000;

/**
 * Logarithms of the incomplete beta function and of its slope against ln(x / y).
 *
 *   ln I_x(a, b) and ln(x^a y^b / B(a, b)), with y = 1 - x given apart so that none of it is lost
 *
 * @param x  upper end [-], 0 to 1
 * @param y  1 - x [-], 0 to 1
 * @param a  first shape [-], > 0
 * @param b  second shape [-], > 0
 * @returns both logarithms [-]
 * @throws RangeError for shapes outside the bounds above
 *
 * Source: [AS1964], 26.5.8; the scale as a saddle-point form, [Loader2000] from memory.
 */
export function lnIncompleteBeta(x: number, y: number, a: number, b: number) {
  requirePositive('regularisedBeta', 'a', a);
  requirePositive('regularisedBeta', 'b', b);
  if (x === 0) return { lnLower: -Infinity, lnDensity: -Infinity };
  if (y === 0) return { lnLower: 0, lnDensity: -Infinity };
  const n = a + b;
  const excess = x * b - y * a;
  const lnDensity =
    0.5 * Math.log(a * (b / n) * (0.5 / Math.PI)) -
    a * departure(x * n, a, excess) -
    b * departure(y * n, b, -excess) +
    stirlingError(n) -
    stirlingError(a) -
    stirlingError(b);
  if (x * (n + 2) < a + 1) {
    return { lnLower: lnDensity - Math.log(a) + Math.log(betaFraction(x, a, b)), lnDensity };
  }
  const lnUpper = lnDensity - Math.log(b) + Math.log(betaFraction(y, b, a));
  return { lnLower: Math.log1p(-Math.min(1, Math.exp(lnUpper))), lnDensity };
}

/**
 * A logit to start the search for a beta quantile of at most 1/2.
 *
 *   the larger of [ln(p a B(a, b))] / a, which never lies above the root, and a normal approximation
 *
 * @param p  probability [-], above 0 and at most 1/2
 * @param a  first shape [-], > 0
 * @param b  second shape [-], > 0
 * @returns ln(x / (1 - x)) [-]
 * @throws RangeError outside the bounds above
 *
 * Source: [AS1964], 26.5.22, from memory.
 */
export function startingLogit(p: number, a: number, b: number): number {
  const bound = (Math.log(p * a) + lnGamma(a) + lnGamma(b) - lnGamma(a + b)) / a;
  if (a < 1 || b < 1) return bound;
  const z = -roughNormalQuantile(p);
  const left = 1 / (2 * a - 1);
  const right = 1 / (2 * b - 1);
  const h = 2 / (left + right);
  const lambda = (z * z - 3) / 6;
  const w = (z * Math.sqrt(h + lambda)) / h - (right - left) * (lambda + 5 / 6 - 2 / (3 * h));
  return Math.max(bound, Math.log(a / b) - 2 * w);
}

function betaFraction(x: number, a: number, b: number): number {
  let c = 1;
  let d = 1 / (1 - ((a + b) * x) / (a + 1));
  let h = d;
  for (let m = 1; m < MOST_TERMS; m++) {
    const even = (m * (b - m) * x) / ((a + 2 * m - 1) * (a + 2 * m));
    d = 1 / (1 + even * d);
    c = 1 + even / c;
    h *= d * c;
    const odd = (-(a + m) * (a + b + m) * x) / ((a + 2 * m) * (a + 2 * m + 1));
    d = 1 / (1 + odd * d);
    c = 1 + odd / c;
    h *= d * c;
    if (Math.abs(d * c - 1) < 1e-16) break;
  }
  return h;
}
