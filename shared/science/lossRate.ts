import { logSdFromRange } from './logNormalSum.ts';
import { Z_95 } from './normal.ts';
import { refuse, requireCount, requirePositive } from './refusal.ts';

export type LossRate = {
  /** First-order loss of living cells at 1 °C [1/d]. */
  perDay: number;
  /** Standard deviation of its natural logarithm: strains, handling and lots differ [-]. */
  logSd: number;
  /** Factor by which 10 °C more speeds the loss [-]. */
  q10: number;
};

/**
 * Loss before a brewery has pairs of its own: three temperatures, one lager strain, six days. The
 * spread is a judgement: 95 % within a factor of four either way.
 * Source: derived from [McCaigBendiak1985], its drops read as relative and 68 % taken at 25 °C.
 */
export const priorLossRate: LossRate = { perDay: 0.0121, logSd: Math.log(4) / 1.96, q10: 3.15 };

/** A lot stained twice, with its time in store between as days at 1 °C. */
export type StainedTwice = {
  equivalentDays: number;
  firstLive: number;
  firstDead: number;
  laterLive: number;
  laterDead: number;
};

type Loss = { days: number; loss: number; variance: number };

/** Lot-to-lot spread of ln k believed before pairs [-]: half-normal, a judgement. */
const LOT_SPREAD_SCALE = 0.3;

const RATE_POINTS = 401;
const RATE_SPREADS = 5;
const LOT_SPREAD_POINTS = 13;
const LOT_SPREAD_SPAN = 4;

/**
 * A brewery's own loss rate in store, drawn from lots stained twice and from the prior together.
 *
 *   ln k ~ Normal(ln prior, logSd^2),  tau ~ half-normal(0.3),
 *   -ln(v2 / v1) ~ Normal(m, s^2 + m^2 (exp(tau^2) - 1)) with m = k d exp(tau^2/2)
 *
 * @param pairs  equivalent days d [d] > 0 and cells [cells] whole, >= 0, firstLive > 0
 * @param prior  rate believed without pairs
 * @returns prior and learned rate [1/d] with 95 % intervals, the spread of ln k between lots [-], and
 *   the rate to use for the next lot, whose logSd holds both
 * @throws RangeError outside the bounds above
 *
 * s^2 is the binomial variance of both stains. Worked on a grid of ln k and tau, so k stays above 0 and
 * the doubt about tau widens the interval. Without pairs the prior comes back. Source: derived.
 */
export function learnedLossRate(pairs: readonly StainedTwice[], prior: LossRate = priorLossRate) {
  requirePositive('learnedLossRate', 'perDay', prior.perDay);
  requirePositive('learnedLossRate', 'logSd', prior.logSd);
  const { learned, lotLogSd } = posterior(pairs.map(lossOf), prior);
  const factor = Math.exp(Z_95 * prior.logSd);
  return {
    prior: { ...prior, low: prior.perDay / factor, high: prior.perDay * factor },
    learned,
    pairs: pairs.length,
    betweenLotsLogSd: lotLogSd,
    nextLot: {
      perDay: learned.perDay,
      logSd: pairs.length === 0 ? prior.logSd : Math.hypot(learned.logSd, lotLogSd),
      q10: prior.q10,
    },
  };
}

/** Half a cell is added to each side, so that none alive or none dead still has a logarithm. */
function lossOf(pair: StainedTwice): Loss {
  requirePositive('learnedLossRate', 'equivalentDays', pair.equivalentDays);
  for (const name of ['firstLive', 'firstDead', 'laterLive', 'laterDead'] as const) {
    requireCount('learnedLossRate', name, pair[name]);
  }
  if (pair.firstLive === 0) refuse('learnedLossRate', 'firstLive must be > 0', 0);
  if (pair.laterLive + pair.laterDead === 0) {
    refuse('learnedLossRate', 'the later stain must hold a cell', 0);
  }
  const share = (live: number, dead: number) => {
    const p = (live + 0.5) / (live + dead + 1);
    return { p, variance: (1 - p) / (p * (live + dead + 1)) };
  };
  const first = share(pair.firstLive, pair.firstDead);
  const later = share(pair.laterLive, pair.laterDead);
  return {
    days: pair.equivalentDays,
    loss: Math.log(first.p / later.p),
    variance: first.variance + later.variance,
  };
}

function posterior(losses: readonly Loss[], prior: LossRate) {
  const step = (2 * RATE_SPREADS * prior.logSd) / (RATE_POINTS - 1);
  const spreadStep = (LOT_SPREAD_SPAN * LOT_SPREAD_SCALE) / (LOT_SPREAD_POINTS - 1);
  const lnRates = Array.from(
    { length: RATE_POINTS },
    (_, i) => Math.log(prior.perDay) + (i - (RATE_POINTS - 1) / 2) * step,
  );
  const lotSpreads = Array.from({ length: LOT_SPREAD_POINTS }, (_, i) => i * spreadStep);
  const surprise = lnRates.map((lnRate) =>
    lotSpreads.map((lotSpread) => surpriseAt(lnRate, lotSpread, losses, prior)),
  );
  const least = Math.min(...surprise.flat());
  const weights = surprise.map((row) => row.map((value) => Math.exp((least - value) / 2)));
  const ofRate = weights.map((row) => row.reduce((sum, weight) => sum + weight, 0));
  const total = ofRate.reduce((sum, weight) => sum + weight, 0);
  const squares = weights.reduce(
    (sum, row) => row.reduce((s, weight, j) => s + weight * (lotSpreads[j] ?? 0) ** 2, sum),
    0,
  );
  const at = (p: number) => Math.exp(quantileOnGrid(p, lnRates, ofRate, total));
  const [low, perDay, high] = [at(0.025), at(0.5), at(0.975)];
  return {
    learned: { perDay, low, high, logSd: logSdFromRange({ low, high }) },
    lotLogSd: Math.sqrt(squares / total),
  };
}

/** Minus twice the logarithm of the posterior density, but for a constant. */
function surpriseAt(lnRate: number, lotSpread: number, losses: readonly Loss[], prior: LossRate) {
  const start =
    ((lnRate - Math.log(prior.perDay)) / prior.logSd) ** 2 + (lotSpread / LOT_SPREAD_SCALE) ** 2;
  const expectedPerDay = Math.exp(lnRate + lotSpread ** 2 / 2);
  const relativeVariance = Math.expm1(lotSpread ** 2);
  return losses.reduce((sum, { days, loss, variance }) => {
    const expected = expectedPerDay * days;
    const spread = variance + expected ** 2 * relativeVariance;
    return sum + (loss - expected) ** 2 / spread + Math.log(spread);
  }, start);
}

function quantileOnGrid(p: number, grid: number[], weights: number[], total: number): number {
  const step = (grid[1] ?? 0) - (grid[0] ?? 0);
  let below = 0;
  for (let i = 0; i < grid.length; i++) {
    const weight = (weights[i] ?? 0) / total;
    below += weight;
    if (below >= p) return (grid[i] ?? 0) + step * (0.5 - (below - p) / weight);
  }
  return grid.at(-1) ?? 0;
}
