import { normalCdf, normalQuantile } from './normal.ts';
import { pooledMean } from './pooledMean.ts';
import { requirePositive } from './refusal.ts';

/** A count in the FV after pitching beside what the slurry figures promised. */
export type PitchCheck = {
  expectedPerMl: number;
  expectedLogSd: number;
  foundPerMl: number;
  foundLogSd: number;
};

export type RunningBias = {
  /** Found over expected: above 1 the slurry figures run low. */
  ratio: number;
  low: number;
  high: number;
  pairs: number;
  /** Standard deviation of the logarithm from batch to batch beyond the counting [-]. */
  betweenBatchLogSd: number;
  /** The same for the next batch, the doubt about the ratio included [-]. */
  nextBatchLogSd: number;
  distinguishable: boolean;
};

/** Batch-to-batch spread of ln(found / expected) believed before pairs [-]: half-normal, a judgement. */
const BATCH_SPREAD_SCALE = 0.15;

/** Fewer pairs than these may hold one blunder and never tell a bias. */
export const LEAST_PAIRS = 3;

const SPREAD_POINTS = 21;
const SPREAD_SPAN = 4;

/**
 * How far a brewery's slurry figures run high or low, from counts made in the FV after pitching.
 *
 *   y = ln(found / expected) ~ Normal(ln ratio, v + tau^2),  tau ~ half-normal(0.15), ln ratio flat
 *
 * @param pairs  concentrations [cells/mL] > 0 and logSds [-] > 0
 * @param batchSpreadScale  scale of tau [-], > 0
 * @returns ratio with its 95 % interval, and whether the interval leaves 1 out; undefined without pairs
 * @throws RangeError outside the bounds above
 *
 * The interval is that of the mixture over tau, so few pairs neither pretend to know tau nor take it
 * as boundless. Count before growth begins. Source: derived; pooling as [DerSimonianLaird1986].
 */
export function runningBias(
  pairs: readonly PitchCheck[],
  batchSpreadScale = BATCH_SPREAD_SCALE,
): RunningBias | undefined {
  requirePositive('runningBias', 'batchSpreadScale', batchSpreadScale);
  if (pairs.length === 0) return undefined;
  const parts = mixture(pairs.map(misfitOf), batchSpreadScale);
  const spread = Math.sqrt(averaged(parts, ({ between }) => between));
  const mean = averaged(parts, (part) => part.mean);
  const doubt = averaged(parts, (part) => part.variance + (part.mean - mean) ** 2);
  const low = Math.exp(mixtureQuantile(parts, 0.025));
  const high = Math.exp(mixtureQuantile(parts, 0.975));
  return {
    ratio: Math.exp(mixtureQuantile(parts, 0.5)),
    low,
    high,
    pairs: pairs.length,
    betweenBatchLogSd: spread,
    nextBatchLogSd: Math.hypot(spread, Math.sqrt(doubt)),
    distinguishable: pairs.length >= LEAST_PAIRS && (low > 1 || high < 1),
  };
}

function misfitOf(pair: PitchCheck) {
  for (const name of ['expectedPerMl', 'foundPerMl', 'expectedLogSd', 'foundLogSd'] as const) {
    requirePositive('runningBias', name, pair[name]);
  }
  return {
    value: Math.log(pair.foundPerMl / pair.expectedPerMl),
    variance: pair.expectedLogSd ** 2 + pair.foundLogSd ** 2,
  };
}

type Part = { weight: number; mean: number; variance: number; between: number };

/** The ratio given each tau of a grid, weighted by what the pairs and the prior say of that tau. */
function mixture(misfits: { value: number; variance: number }[], scale: number): Part[] {
  const values = misfits.map(({ value }) => value);
  const variances = misfits.map(({ variance }) => variance);
  const parts = Array.from({ length: SPREAD_POINTS }, (_, i) => {
    const inScales = (SPREAD_SPAN * i) / (SPREAD_POINTS - 1);
    const between = (scale * inScales) ** 2;
    const { mean, standardError, q } = pooledMean(values, variances, between);
    const logWidths = variances.reduce((sum, variance) => sum + Math.log(variance + between), 0);
    const logWeight = Math.log(standardError) - (logWidths + q + inScales ** 2) / 2;
    return { logWeight, mean, variance: standardError ** 2, between };
  });
  const best = Math.max(...parts.map(({ logWeight }) => logWeight));
  const total = parts.reduce((sum, { logWeight }) => sum + Math.exp(logWeight - best), 0);
  return parts.map(({ logWeight, ...part }) => ({
    ...part,
    weight: Math.exp(logWeight - best) / total,
  }));
}

const averaged = (parts: readonly Part[], of: (part: Part) => number) =>
  parts.reduce((sum, part) => sum + part.weight * of(part), 0);

/** By halving between the outermost quantiles of the parts. */
function mixtureQuantile(parts: readonly Part[], p: number): number {
  const own = parts.map(({ mean, variance }) => mean + normalQuantile(p) * Math.sqrt(variance));
  let [low, high] = [Math.min(...own), Math.max(...own)];
  for (let halving = 0; halving < 26; halving++) {
    const middle = (low + high) / 2;
    const below = averaged(parts, (part) =>
      normalCdf((middle - part.mean) / Math.sqrt(part.variance)),
    );
    if (below < p) low = middle;
    else high = middle;
  }
  return (low + high) / 2;
}
