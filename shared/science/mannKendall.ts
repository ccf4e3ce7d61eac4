import { normalCdf } from './normal.ts';
import { refuse } from './refusal.ts';
import { valueAt } from './valueAt.ts';

export type MannKendall = {
  s: number;
  variance: number;
  z: number;
  tau: number;
  pValue: number;
  method: 'exact' | 'normal';
};

/** Up to this many values, without ties, the chance is counted exactly. */
const EXACT_UP_TO = 10;

/**
 * Test for a steady rise or fall in values over time, without a shape assumed.
 *
 *   S = sum over i < j of sign(y_j - y_i);  z = (S -+ 1) / sqrt(var S);  tau = S / (n(n - 1)/2)
 *   var S = (n(n - 1)(2n + 5) - sum t(t - 1)(2t + 5)) / 18, t the size of each tie
 *
 * @param values  in order of time [any unit], finite, at least three
 * @returns statistic, tau and two-sided chance; exact for up to ten values without ties, else normal
 * @throws RangeError outside the bounds above
 *
 * Only the order of the times matters. Source: [USEPA2009], chapter 17; [Kendall1975], from memory.
 */
export function mannKendall(values: readonly number[]): MannKendall {
  const n = values.length;
  if (n < 3) refuse('mannKendall', 'values must hold at least three', n);
  if (!values.every(Number.isFinite)) refuse('mannKendall', 'values must be finite', values);
  let s = 0;
  for (const [i, earlier] of values.entries()) {
    for (const later of values.slice(i + 1)) s += Math.sign(later - earlier);
  }
  const ties = tieSizes(values);
  const tied = ties.reduce((sum, t) => sum + t * (t - 1) * (2 * t + 5), 0);
  const variance = (n * (n - 1) * (2 * n + 5) - tied) / 18;
  const z = variance > 0 ? (s - Math.sign(s)) / Math.sqrt(variance) : 0;
  const isExact = n <= EXACT_UP_TO && ties.every((t) => t === 1);
  const pValue = isExact ? exactChance(n, Math.abs(s)) : Math.min(1, 2 * normalCdf(-Math.abs(z)));
  const tau = s / ((n * (n - 1)) / 2);
  return { s, variance, z, tau, pValue, method: isExact ? 'exact' : 'normal' };
}

function tieSizes(values: readonly number[]): number[] {
  const sizes = new Map<number, number>();
  for (const value of values) sizes.set(value, (sizes.get(value) ?? 0) + 1);
  return [...sizes.values()];
}

/** Two-sided chance of so many more rises than falls, over all orders, counted by inversions. */
function exactChance(n: number, absS: number): number {
  let counts = [1];
  for (let size = 2; size <= n; size++) {
    const next = new Array<number>(counts.length + size - 1).fill(0);
    for (const [inversions, count] of counts.entries()) {
      for (let more = 0; more < size; more++) {
        next[inversions + more] = valueAt(next, inversions + more) + count;
      }
    }
    counts = next;
  }
  const pairs = (n * (n - 1)) / 2;
  const total = counts.reduce((sum, count) => sum + count, 0);
  const extreme = counts.reduce(
    (sum, count, inversions) => sum + (pairs - 2 * inversions >= absS ? count : 0),
    0,
  );
  return Math.min(1, (2 * extreme) / total);
}
