import { refuse } from './refusal.ts';

/** Gravities that wort or beer can have: outside these a number is something else. */
export const possibleSg = { low: 0.95, high: 1.2 } as const;

/**
 * Extract in degrees Plato from specific gravity.
 *
 *   P = 133.5892 SG^3 - 622.5576 SG^2 + 1102.9079 SG - 613.9427
 *
 * @param gravitySg  specific gravity 20/20 °C [-], 0.95 to 1.2
 * @returns extract [°P], below 0 under about 1.00001
 * @throws RangeError outside the bounds above
 *
 * Valid from 1.000 to 1.083 (0 to 20 °P), where the cubic was fitted: mean error below 0.00053 °P against the ASBC tables. Source: [Buhl-cubic].
 */
export function platoFromSg(gravitySg: number): number {
  requirePossible('platoFromSg', gravitySg);
  return cubic(gravitySg);
}

/**
 * Specific gravity from extract in degrees Plato: the inverse of platoFromSg, exactly.
 *
 *   SG such that platoFromSg(SG) = P, by Newton steps from 1 + P/260
 *
 * @param gravityPlato  extract [°P], about -13.5 to 43.9
 * @returns specific gravity 20/20 °C [-]
 * @throws RangeError when the gravity would lie outside 0.95 to 1.2
 *
 * Valid from 0 to 20 °P, where the cubic was fitted. Source: [Buhl-cubic].
 */
export function sgFromPlato(gravityPlato: number): number {
  if (!(gravityPlato >= cubic(possibleSg.low) && gravityPlato <= cubic(possibleSg.high))) {
    refuse('sgFromPlato', 'gravityPlato must be that of a gravity of 0.95 to 1.2', gravityPlato);
  }
  let sg = 1 + gravityPlato / 260;
  for (let step = 0; step < 50; step++) {
    const change = (cubic(sg) - gravityPlato) / (1102.9079 + sg * (-1245.1152 + sg * 400.7676));
    sg -= change;
    if (Math.abs(change) < 1e-16) break;
  }
  // The last digit may round just past the ends, which platoFromSg would then refuse.
  return Math.min(possibleSg.high, Math.max(possibleSg.low, sg));
}

/**
 * Degrees of gravity, as brewers say 40 for 1040.
 *
 *   1000 (SG - 1)
 *
 * @param gravitySg  specific gravity [-], 0.95 to 1.2
 * @returns excess degrees [°]
 * @throws RangeError outside the bounds above
 *
 * Source: trade usage.
 */
export function excessDegreesFromSg(gravitySg: number): number {
  requirePossible('excessDegreesFromSg', gravitySg);
  return (gravitySg - 1) * 1000;
}

/**
 * Specific gravity from degrees of gravity.
 *
 *   1 + degrees / 1000
 *
 * @param excessDegrees  [°], -50 to 200
 * @returns specific gravity [-]
 * @throws RangeError outside the bounds above
 *
 * Source: trade usage.
 */
export function sgFromExcessDegrees(excessDegrees: number): number {
  const gravitySg = 1 + excessDegrees / 1000;
  if (!(gravitySg >= possibleSg.low && gravitySg <= possibleSg.high)) {
    refuse('sgFromExcessDegrees', 'excessDegrees must be from -50 to 200', excessDegrees);
  }
  return gravitySg;
}

function cubic(sg: number): number {
  return -613.9427 + sg * (1102.9079 + sg * (-622.5576 + sg * 133.5892));
}

function requirePossible(functionName: string, gravitySg: number): void {
  if (!(gravitySg >= possibleSg.low && gravitySg <= possibleSg.high)) {
    refuse(functionName, 'gravitySg must be from 0.95 to 1.2', gravitySg);
  }
}
