import { apparentAttenuation } from './attenuation.ts';
import {
  bayesianRegression,
  foretold,
  type RegressionPosterior,
  type RegressionPrior,
} from './bayesianRegression.ts';
import { PLAUSIBLE_MIDPOINT_HOURS, PLAUSIBLE_RATE_PER_HOUR } from './fermentLogistic.ts';
import { excessDegreesFromSg } from './gravity.ts';
import { requirePositive } from './refusal.ts';

export type FermentSetting = {
  originalGravitySg: number;
  setTempC?: number | undefined;
  pitchRateMillionPerMlPerPlato?: number | undefined;
};

export type PastFerment = FermentSetting & {
  halfTimeHours: number;
  ratePerHour: number;
  endGravitySg: number;
};

/** A figure foretold on a scale where it is Student's t: ln hours, ln rate, logit of attenuation. */
export type Foretold = { centre: number; scale: number; degreesOfFreedom: number };

export type HousePace = {
  lnHalfTime: Foretold;
  lnRate: Foretold;
  logitAttenuation: Foretold;
  /** Between half time and rate of one ferment, pulled towards none while ferments are few. */
  correlation: number;
};

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

/**
 * Pace and attenuation to expect of one ferment, from the ferments a strain has shown here.
 *
 *   ln h, ln b = mean + slopes (T - Tm, ln r/rm, ln G/Gm) + scatter between ferments; logit of attenuation likewise
 *
 * @param past  settled ferments: half time [h] > 0, rate [1/h] > 0, gravities [SG]; may be empty
 * @param target  the ferment to foretell; what is not known counts as the house mean
 * @returns each figure as Student's t on its scale, and the correlation of half time and rate
 * @throws RangeError outside the bounds above
 *
 * Half time and rate count from the original gravity. Source: own model on [ASBCYeast14]; [Gelman2013], 14.8.
 */
export function housePace(past: readonly PastFerment[], target: FermentSetting): HousePace {
  for (const ferment of past) requireSound(ferment);
  const settings = past.length > 0 ? past : [target];
  const means = {
    tempC: mean(settings.flatMap(({ setTempC }) => setTempC ?? [])),
    lnPitch: mean(settings.flatMap((setting) => lnPitchOf(setting) ?? [])),
    lnGravity: mean(settings.map(lnGravityOf)),
  };
  const rowOf = (setting: FermentSetting) => [
    1,
    (setting.setTempC ?? means.tempC) - means.tempC,
    (lnPitchOf(setting) ?? means.lnPitch) - means.lnPitch,
    lnGravityOf(setting) - means.lnGravity,
  ];
  const rows = past.map(rowOf);
  const halfTime = bayesianRegression(
    rows,
    past.map(({ halfTimeHours }) => Math.log(halfTimeHours)),
    HOUSE_PACE_PRIOR.lnHalfTime,
  );
  const rate = bayesianRegression(
    rows,
    past.map(({ ratePerHour }) => Math.log(ratePerHour)),
    HOUSE_PACE_PRIOR.lnRate,
  );
  const attenuation = bayesianRegression(
    past.map(() => [1]),
    past.map(logitAttenuationOf),
    HOUSE_PACE_PRIOR.logitAttenuation,
  );
  return {
    lnHalfTime: foretold(halfTime, rowOf(target)),
    lnRate: foretold(rate, rowOf(target)),
    logitAttenuation: foretold(attenuation, [1]),
    correlation: shrunkCorrelation(halfTime, rate),
  };
}

function requireSound(ferment: PastFerment): void {
  requirePositive('housePace', 'halfTimeHours', ferment.halfTimeHours);
  requirePositive('housePace', 'ratePerHour', ferment.ratePerHour);
  const attenuation = apparentAttenuation(ferment.originalGravitySg, ferment.endGravitySg);
  requirePositive('housePace', 'attenuation', attenuation);
}

/** Over 99 % would send the logit away: a dry beer's end is held there. */
function logitAttenuationOf({ originalGravitySg, endGravitySg }: PastFerment): number {
  const attenuation = Math.min(apparentAttenuation(originalGravitySg, endGravitySg), 0.99);
  return Math.log(attenuation / (1 - attenuation));
}

const lnGravityOf = ({ originalGravitySg }: FermentSetting) =>
  Math.log(excessDegreesFromSg(originalGravitySg));

const lnPitchOf = ({ pitchRateMillionPerMlPerPlato: rate }: FermentSetting) =>
  rate === undefined ? undefined : Math.log(rate);

const mean = (values: readonly number[]) =>
  values.length > 0 ? values.reduce((sum, value) => sum + value, 0) / values.length : 0;

function shrunkCorrelation(a: RegressionPosterior, b: RegressionPosterior): number {
  const cross = a.residuals.reduce((sum, value, i) => sum + value * (b.residuals[i] ?? 0), 0);
  return cross / (a.degreesOfFreedom * a.residualSd * b.residualSd);
}
