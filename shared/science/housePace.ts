import { apparentAttenuation } from './attenuation.ts';
import { bayesianRegression, foretold, type RegressionPosterior } from './bayesianRegression.ts';
import { excessDegreesFromSg } from './gravity.ts';
import { BETWEEN_BEERS_SD, HOUSE_PACE_PRIOR } from './housePacePrior.ts';
import { requirePositive } from './refusal.ts';

export type FermentSetting = {
  originalGravitySg: number;
  /** Name of the beer; ferments without one stand at the mean of all beers. */
  beer?: string | undefined;
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

/**
 * Pace and attenuation to expect of one ferment, from the ferments a strain has shown here.
 *
 *   ln h, ln b = mean + slopes (T - Tm, ln r/rm, ln G/Gm) + beer + scatter between ferments
 *   logit of attenuation = mean + beer + scatter; beer ~ normal(0, BETWEEN_BEERS_SD)
 *
 * @param past  settled ferments: half time [h] > 0, rate [1/h] > 0, gravities [SG]; may be empty
 * @param target  the ferment to foretell; what is not known counts as the house mean
 * @returns each figure as Student's t on its scale, and the correlation of half time and rate
 * @throws RangeError outside the bounds above
 *
 * Beers are pooled in part: each keeps of its own what its ferments outweigh the spread between beers.
 * Half time and rate count from the original gravity. Source: own model on [ASBCYeast14]; [Gelman2013], 14.8.
 */
export function housePace(past: readonly PastFerment[], target: FermentSetting): HousePace {
  for (const ferment of past) requireSound(ferment);
  // Where no past ferment tells, the target stands at the mean: nothing is known of the difference.
  const meanOf = (figure: (setting: FermentSetting) => number | undefined) =>
    mean(past.flatMap((setting) => figure(setting) ?? [])) ?? figure(target) ?? 0;
  const means = {
    tempC: meanOf(({ setTempC }) => setTempC),
    lnPitch: meanOf(lnPitchOf),
    lnGravity: meanOf(lnGravityOf),
  };
  const beers = [...new Set([...past, target].flatMap(({ beer }) => beer ?? []))];
  const beerRow = ({ beer }: FermentSetting) => beers.map((name) => (name === beer ? 1 : 0));
  const rowOf = (setting: FermentSetting) => [
    1,
    (setting.setTempC ?? means.tempC) - means.tempC,
    (lnPitchOf(setting) ?? means.lnPitch) - means.lnPitch,
    lnGravityOf(setting) - means.lnGravity,
    ...beerRow(setting),
  ];
  const endRowOf = (setting: FermentSetting) => [1, ...beerRow(setting)];
  const regression = (
    figure: keyof typeof HOUSE_PACE_PRIOR,
    row: (setting: FermentSetting) => number[],
    observedOf: (ferment: PastFerment) => number,
  ) => {
    const { coefficients, ...scatter } = HOUSE_PACE_PRIOR[figure];
    const ofBeers = beers.map(() => ({ mean: 0, sd: BETWEEN_BEERS_SD[figure] }));
    const prior = { ...scatter, coefficients: [...coefficients, ...ofBeers] };
    return bayesianRegression(past.map(row), past.map(observedOf), prior);
  };
  const halfTime = regression('lnHalfTime', rowOf, (ferment) => Math.log(ferment.halfTimeHours));
  const rate = regression('lnRate', rowOf, (ferment) => Math.log(ferment.ratePerHour));
  const attenuation = regression('logitAttenuation', endRowOf, logitAttenuationOf);
  return {
    lnHalfTime: foretold(halfTime, rowOf(target)),
    lnRate: foretold(rate, rowOf(target)),
    logitAttenuation: foretold(attenuation, endRowOf(target)),
    correlation: shrunkCorrelation(halfTime, rate),
  };
}

function requireSound(ferment: PastFerment): void {
  requirePositive('housePace', 'halfTimeHours', ferment.halfTimeHours);
  requirePositive('housePace', 'ratePerHour', ferment.ratePerHour);
  const attenuation = apparentAttenuation(ferment.originalGravitySg, ferment.endGravitySg);
  requirePositive('housePace', 'attenuation', attenuation);
}

/**
 * Apparent attenuation of a ferment on the scale on which it is foretold.
 *
 *   ln(a / (1 - a))
 *
 * @param ferment  gravities [SG], end below original
 * @returns logit [-]; an attenuation above 99 % counts as 99 %
 * @throws RangeError outside the bounds above
 *
 * Held at 99 % because a beer drier than water would send it away. Source: definition.
 */
export function logitAttenuationOf({ originalGravitySg, endGravitySg }: PastFerment): number {
  const attenuation = Math.min(apparentAttenuation(originalGravitySg, endGravitySg), 0.99);
  return Math.log(attenuation / (1 - attenuation));
}

const lnGravityOf = ({ originalGravitySg }: FermentSetting) =>
  Math.log(excessDegreesFromSg(originalGravitySg));

const lnPitchOf = ({ pitchRateMillionPerMlPerPlato: rate }: FermentSetting) =>
  rate === undefined ? undefined : Math.log(rate);

const mean = (values: readonly number[]) =>
  values.length > 0 ? values.reduce((sum, value) => sum + value, 0) / values.length : undefined;

function shrunkCorrelation(a: RegressionPosterior, b: RegressionPosterior): number {
  const cross = a.residuals.reduce((sum, value, i) => sum + value * (b.residuals[i] ?? 0), 0);
  return cross / (a.degreesOfFreedom * a.residualSd * b.residualSd);
}
