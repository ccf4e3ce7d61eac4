import { studentTQuantile } from './betaFunctions.ts';
import { type Foretold, housePace, logitAttenuationOf, type PastFerment } from './housePace.ts';
import { requireConfidence } from './refusal.ts';

/**
 * Whether a ferment did as others of its strain foretell: in its half time and in its attenuation.
 *
 *   |y - centre| <= t((1 + confidence) / 2, df) scale, for ln half time and logit of attenuation
 *
 * @param ferment  as `pastFermentOf` returns it
 * @param others  ferments it is held to, without itself; may be none
 * @param confidence  share of sound ferments that pass each of the two [-], between 0 and 1
 * @returns true when both lie within
 * @throws RangeError outside the bounds above
 *
 * Gravity, temperature, pitching rate and beer allowed for. Source: see `housePace`.
 */
export function isUsualFerment(
  ferment: PastFerment,
  others: readonly PastFerment[],
  confidence: number,
): boolean {
  requireConfidence('isUsualFerment', confidence);
  const { lnHalfTime, logitAttenuation } = housePace(others, ferment);
  const isWithin = (value: number, { centre, scale, degreesOfFreedom }: Foretold) =>
    Math.abs(value - centre) <= scale * studentTQuantile((1 + confidence) / 2, degreesOfFreedom);
  return (
    isWithin(Math.log(ferment.halfTimeHours), lnHalfTime) &&
    isWithin(logitAttenuationOf(ferment), logitAttenuation)
  );
}
