import { studentTUpperTail } from './betaFunctions.ts';
import { normalQuantile } from './normal.ts';
import { refuse } from './refusal.ts';
import { valueAt } from './valueAt.ts';

/** Running count, mean and sum of squares about the mean. */
type Tally = { count: number; mean: number; squares: number };

/** Spread known beforehand from other series of the kind. */
export type KnownSpread = { squares: number; degreesOfFreedom: number };

export type DriftPoint = { score: number; ewma: number; limit: number; isOut: boolean };

/** Weight of the newest value and width of the limits: 370 values between false alarms in control. */
export const DRIFT_EWMA = { lambda: 0.2, k: 2.86 } as const;

/** A score is held within this, so that one mad value alone calls nothing. */
const GREATEST_SCORE = 3;

/**
 * Exponentially weighted average of a series whose mean and spread are learned as it goes.
 *
 *   t = (x - m) / (s sqrt(1 + 1/n)) on df degrees of freedom;  score = standard normal with the same tail
 *   z_i = 0.2 score + 0.8 z_(i-1), limits as in `ewmaChart`, exact
 *
 * @param baseline  first values in order [any unit], at least two unless the spread is known, finite
 * @param later  values to judge, in order, finite
 * @param known  sum of squares and degrees of freedom from other series, none when left out
 * @returns one point for each later value, and the index at which the run that is out began
 * @throws RangeError outside the bounds above, or when nothing shows any spread
 *
 * In control the scores are independent and standard normal however short the baseline is. Once out,
 * mean and spread stay those from before the run. Source: self-starting scores [Hawkins1987], from memory.
 */
export function selfStartingEwma(
  baseline: readonly number[],
  later: readonly number[],
  known: KnownSpread = { squares: 0, degreesOfFreedom: 0 },
): { points: DriftPoint[]; runBegan: number | undefined } {
  if (![...baseline, ...later].every(Number.isFinite)) {
    refuse('selfStartingEwma', 'values must be finite', later);
  }
  let tally = baseline.reduce(withValue, { count: 0, mean: 0, squares: 0 });
  if (!(tally.count > 0 && tally.squares + known.squares > 0)) {
    refuse('selfStartingEwma', 'baseline must show some spread', baseline.length);
  }
  const before: Tally[] = [];
  const points: DriftPoint[] = [];
  let runBegan: number | undefined;
  for (const [i, value] of later.entries()) {
    before.push(tally);
    const score = scoreOf(value, tally, known);
    const ewma = DRIFT_EWMA.lambda * score + (1 - DRIFT_EWMA.lambda) * (points.at(-1)?.ewma ?? 0);
    const limit = limitAt(i);
    points.push({ score, ewma, limit, isOut: Math.abs(ewma) > limit });
    if (Math.abs(ewma) > limit && runBegan === undefined) {
      runBegan = startOfRun(points);
      tally = valueAt(before, runBegan);
    } else if (runBegan === undefined) {
      tally = withValue(tally, value);
    }
  }
  return { points, runBegan: points.at(-1)?.isOut ? startOfRun(points) : undefined };
}

function withValue({ count, mean, squares }: Tally, value: number): Tally {
  const next = mean + (value - mean) / (count + 1);
  return { count: count + 1, mean: next, squares: squares + (value - mean) * (value - next) };
}

function scoreOf(value: number, { count, mean, squares }: Tally, known: KnownSpread): number {
  const degreesOfFreedom = known.degreesOfFreedom + count - 1;
  const sd = Math.sqrt((squares + known.squares) / degreesOfFreedom);
  const t = (value - mean) / (sd * Math.sqrt(1 + 1 / count));
  const tail = studentTUpperTail(Math.abs(t), degreesOfFreedom);
  return Math.sign(t) * Math.min(GREATEST_SCORE, -normalQuantile(tail));
}

function limitAt(i: number): number {
  const { lambda, k } = DRIFT_EWMA;
  const grown = 1 - (1 - lambda) ** (2 * (i + 1));
  return k * Math.sqrt((lambda / (2 - lambda)) * grown);
}

/** The average has been on the side of its last value since here. */
function startOfRun(points: readonly DriftPoint[]): number {
  const side = Math.sign(points.at(-1)?.ewma ?? 0);
  return points.findLastIndex(({ ewma }) => Math.sign(ewma) !== side) + 1;
}
