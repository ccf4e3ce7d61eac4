import type { FittedFerment } from './fermentCurve.ts';
import type { FermentSetting, PastFerment } from './housePace.ts';

/**
 * A fitted ferment as one of those that set the pace of a house.
 *
 *   b = 4 x greatest rate / (Pi - Pe): the fitted rate, or that of the plain logistic as steep
 *
 * @param curve  as `fitFermentCurve` returns it
 * @param setting  original gravity [SG] and, where known, set temperature and pitching rate
 * @returns half time [h], rate [1/h], gravities and setting; undefined without a half time
 *
 * Source: derived from the curve.
 */
export function pastFermentOf(
  { parameters, derived }: FittedFerment,
  setting: FermentSetting,
): PastFerment | undefined {
  const { halfTimeHours, greatestRateDegreesPerHour } = derived;
  const fall = (parameters.initialGravitySg.value - parameters.endGravitySg.value) * 1000;
  if (!halfTimeHours || !greatestRateDegreesPerHour || !(halfTimeHours.value > 0)) return undefined;
  return {
    ...setting,
    halfTimeHours: halfTimeHours.value,
    ratePerHour: (4 * greatestRateDegreesPerHour.value) / fall,
    endGravitySg: parameters.endGravitySg.value,
  };
}
