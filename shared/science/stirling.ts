import { requirePositive } from './refusal.ts';

const HALF_LN_TWO_PI = 0.9189385332046728; // ln(2 pi) / 2

/**
 * Natural logarithm of the gamma function.
 *
 *   ln Gamma(a) = (a - 1/2) ln a - a + ln(2 pi)/2 + stirlingError(a)
 *
 * @param a  argument [-], > 0
 * @returns ln Gamma(a) [-]
 * @throws RangeError outside the bounds above
 *
 * Source: [AS1964], 6.1.40.
 */
export function lnGamma(a: number): number {
  requirePositive('lnGamma', 'a', a);
  if (a >= 10) return (a - 0.5) * Math.log(a) - a + HALF_LN_TWO_PI + stirlingSeries(a);
  let shifted = a;
  let product = 1;
  while (shifted < 10) product *= shifted++;
  return lnGamma(shifted) - Math.log(product);
}

/**
 * What Stirling's formula leaves out of ln Gamma(a), to full precision.
 *
 *   ln Gamma(a) - [(a - 1/2) ln a - a + ln(2 pi)/2]
 *
 * @param a  argument [-], > 0
 * @returns the remainder [-]
 * @throws RangeError outside the bounds above
 *
 * Asymptotic series from 10 up, where the first dropped term is below 1e-15. Source: [AS1964], 6.1.40.
 */
export function stirlingError(a: number): number {
  requirePositive('stirlingError', 'a', a);
  if (a >= 10) return stirlingSeries(a);
  return lnGamma(a) - ((a - 0.5) * Math.log(a) - a + HALF_LN_TWO_PI);
}

/**
 * How far x lies from its reference m, as the exponent of a gamma or beta density needs it.
 *
 *   D = x/m - 1 - ln(x/m), by series near x = m where the difference cancels
 *
 * @param x  value [-], > 0
 * @param m  reference [-], > 0
 * @param difference  x - m when it is known more exactly than by subtraction [-]
 * @returns D [-], >= 0
 *
 * Source: [Loader2000], the deviance part of the saddle-point form, from memory.
 */
export function departure(x: number, m: number, difference = x - m): number {
  const mu = difference / m;
  if (Math.abs(mu) > 0.1) return mu - Math.log(x / m);
  const ratio = mu / (2 + mu);
  const square = ratio * ratio;
  let power = ratio * square;
  let sum = 0;
  for (let n = 3; n < 60; n += 2) {
    sum += power / n;
    power *= square;
  }
  return mu * ratio - 2 * sum;
}

function stirlingSeries(a: number): number {
  const s = 1 / (a * a);
  const inner = 1 / 1260 + s * (-1 / 1680 + s * (1 / 1188 + s * (-691 / 360360 + s / 156)));
  return (1 / 12 + s * (-1 / 360 + s * inner)) / a;
}
