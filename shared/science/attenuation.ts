import { excessDegreesFromSg, platoFromSg } from './gravity.ts';
import { refuse } from './refusal.ts';

/**
 * Share of the original gravity that has gone, by the saccharometer.
 *
 *   (OG - PG) / OG in excess degrees
 *
 * @param originalSg  OG [-], above 1
 * @param presentSg  PG [-]
 * @returns apparent attenuation [-]; below 0 while PG reads higher than OG
 * @throws RangeError outside the bounds above
 *
 * In °P the same beer reads a little lower. Source: trade usage.
 */
export function apparentAttenuation(originalSg: number, presentSg: number): number {
  const original = excessDegreesFromSg(originalSg);
  if (!(original > 0)) refuse('apparentAttenuation', 'originalSg must be above 1', originalSg);
  return (original - excessDegreesFromSg(presentSg)) / original;
}

/**
 * Share of the original extract that has gone by the saccharometer, worked in degrees Plato.
 *
 *   (OE - AE) / OE
 *
 * @param originalSg  OG [-], above 1
 * @param presentSg  PG [-]
 * @returns apparent attenuation in °P [-]
 * @throws RangeError outside the bounds above
 *
 * Source: [Balling].
 */
export function apparentAttenuationPlato(originalSg: number, presentSg: number): number {
  const original = requireExtract('apparentAttenuationPlato', originalSg);
  return (original - platoFromSg(presentSg)) / original;
}

/**
 * Share of the original extract that yeast has really used, alcohol's lightness allowed for.
 *
 *   (OE - RE) / OE
 *
 * @param originalSg  OG [-], above 1
 * @param presentSg  PG [-]
 * @returns real attenuation [-], about 0.81 of the apparent
 * @throws RangeError outside the bounds above
 *
 * Source: [Balling].
 */
export function realAttenuation(originalSg: number, presentSg: number): number {
  const original = requireExtract('realAttenuation', originalSg);
  return (original - realExtract(originalSg, presentSg)) / original;
}

/**
 * Extract left in a beer once the alcohol is taken out of account.
 *
 *   RE = 0.1808 OE + 0.8192 AE
 *
 * @param originalSg  OG [-]
 * @param presentSg  PG [-]
 * @returns real extract [°P]
 * @throws RangeError outside 0.95 to 1.2
 *
 * Real beers have run 0.1 to 0.19 °P above it. Source: [Balling], constants from memory; [Cutaia2009].
 */
export function realExtract(originalSg: number, presentSg: number): number {
  return 0.1808 * platoFromSg(originalSg) + 0.8192 * platoFromSg(presentSg);
}

function requireExtract(functionName: string, originalSg: number): number {
  const original = platoFromSg(originalSg);
  if (!(original > 0)) refuse(functionName, 'originalSg must be above 1', originalSg);
  return original;
}
