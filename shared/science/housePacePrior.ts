import type { RegressionPrior } from './bayesianRegression.ts';
import { PLAUSIBLE_MIDPOINT_HOURS, PLAUSIBLE_RATE_PER_HOUR } from './fermentLogistic.ts';

const spanOf = ({ from, to }: { from: number; to: number }) => ({
  mean: (Math.log(from) + Math.log(to)) / 2,
  sd: (Math.log(to) - Math.log(from)) / 2,
});

/** Worth of the believed scatter between ferments, in ferments: a judgement, no source. */
const RESIDUAL_WEIGHT = 4;

/**
 * Beliefs before own ferments. Middle and spread: remembered spans read as one standard deviation.
 * Slopes on temperature [1/C], ln pitching rate and ln gravity, and the scatter: from memory, wide.
 */
export const HOUSE_PACE_PRIOR = {
  lnHalfTime: {
    coefficients: [
      spanOf(PLAUSIBLE_MIDPOINT_HOURS),
      { mean: -0.07, sd: 0.04 },
      { mean: -0.25, sd: 0.2 },
      { mean: 0.5, sd: 0.4 },
    ],
    residualSd: 0.1,
    residualWeight: RESIDUAL_WEIGHT,
  },
  lnRate: {
    coefficients: [
      spanOf(PLAUSIBLE_RATE_PER_HOUR),
      { mean: 0.05, sd: 0.04 },
      { mean: 0, sd: 0.2 },
      { mean: -0.3, sd: 0.4 },
    ],
    residualSd: 0.18,
    residualWeight: RESIDUAL_WEIGHT,
  },
  logitAttenuation: {
    coefficients: [{ mean: Math.log(3), sd: 0.3 }],
    residualSd: 0.1,
    residualWeight: RESIDUAL_WEIGHT,
  },
} satisfies Record<string, RegressionPrior>;

/** Spread between the beers of a strain beyond gravity and temperature, on each scale: a judgement. */
export const BETWEEN_BEERS_SD = {
  lnHalfTime: 0.06,
  lnRate: 0.08,
  logitAttenuation: 0.12,
} satisfies Record<keyof typeof HOUSE_PACE_PRIOR, number>;
