import { realExtract } from './attenuation.ts';
import { excessDegreesFromSg, platoFromSg } from './gravity.ts';
import { refuse, requireNotNegative } from './refusal.ts';

/** Weight of a litre of alcohol against a litre of water at 20 °C [-], from memory. */
const ALCOHOL_SG = 0.7907;

/** Fall of gravity up to and including which each factor holds [excess degrees, %/degree]. */
export const hmrcFactors = [
  { upToDegrees: 6.9, factor: 0.125 },
  { upToDegrees: 10.4, factor: 0.126 },
  { upToDegrees: 17.2, factor: 0.127 },
  { upToDegrees: 26.1, factor: 0.128 },
  { upToDegrees: 36.0, factor: 0.129 },
  { upToDegrees: 46.5, factor: 0.13 },
  { upToDegrees: 57.1, factor: 0.131 },
  { upToDegrees: 67.9, factor: 0.132 },
  { upToDegrees: 78.8, factor: 0.133 },
  { upToDegrees: 89.7, factor: 0.134 },
  { upToDegrees: 100.7, factor: 0.135 },
] as const;

/**
 * Alcohol by volume from original and present gravity, after Balling.
 *
 *   A = (OE - RE) / (2.0665 - 0.010665 OE) % by weight,  ABV = A PG / 0.7907
 *
 * @param originalSg  OG [-], 0.95 to 1.2; a wort lies above 1
 * @param presentSg  PG [-], 0.95 to OG
 * @returns alcohol by volume [%], 0 to about 35
 * @throws RangeError outside the bounds above
 *
 * Within 0.1 % by weight of five published sets of beers. Not to be mixed with abvHmrc, which reads
 * about 0.1 % lower. Source: [Balling], constants from memory; [Cutaia2009].
 */
export function abvBalling(originalSg: number, presentSg: number): number {
  requireFall('abvBalling', originalSg, presentSg);
  return (
    (alcoholByWeight(platoFromSg(originalSg), realExtract(originalSg, presentSg)) * presentSg) /
    ALCOHOL_SG
  );
}

/**
 * Alcohol by weight from original and real extract, after Balling.
 *
 *   A = (OE - RE) / (2.0665 - 0.010665 OE)
 *
 * @param originalPlato  OE [°P]
 * @param realPlato  RE [°P]
 * @returns alcohol by weight [%]; below 0 where more extract is left than there was
 *
 * Source: [Balling], constants from memory.
 */
export function alcoholByWeight(originalPlato: number, realPlato: number): number {
  return (originalPlato - realPlato) / (2.0665 - 0.010665 * originalPlato);
}

/**
 * Alcohol by volume from original and present gravity, as a British duty estimate.
 *
 *   (OG - PG) f, the fall rounded to 0.1 degree and f from hmrcFactors
 *
 * @param originalSg  OG [-], 0.95 to 1.2
 * @param presentSg  PG [-], 0.95 to OG
 * @returns alcohol by volume [%], not rounded; undefined for a fall above 100.7 degrees
 * @throws RangeError outside the bounds above
 *
 * A guide; actual strength prevails. For cask beer PG is taken after secondary fermentation.
 * Source: [HMRC226], 30.2 and 30.3, second hand.
 */
export function abvHmrc(originalSg: number, presentSg: number): number | undefined {
  requireFall('abvHmrc', originalSg, presentSg);
  const fall = excessDegreesFromSg(originalSg) - excessDegreesFromSg(presentSg);
  const fallDegrees = Math.round(fall * 10 + 1e-9) / 10;
  const band = hmrcFactors.find(({ upToDegrees }) => fallDegrees <= upToDegrees);
  return band === undefined ? undefined : fallDegrees * band.factor;
}

/**
 * Strength on which duty is paid: cut, not rounded, to one decimal.
 *
 *   floor(10 ABV) / 10
 *
 * @param abvPercent  alcohol by volume [%], >= 0
 * @returns alcohol by volume [%]
 * @throws RangeError outside the bounds above
 *
 * Source: [HMRC-technical], section 11: 7.59 is 7.5.
 */
export function dutyStrength(abvPercent: number): number {
  requireNotNegative('dutyStrength', 'abvPercent', abvPercent);
  return Math.floor(abvPercent * 10 + 1e-9) / 10;
}

function requireFall(functionName: string, originalSg: number, presentSg: number): void {
  if (!(presentSg <= originalSg)) {
    refuse(functionName, `presentSg must be at most originalSg (${originalSg})`, presentSg);
  }
}
