import { platoFromSg } from '#shared/science/gravity.ts';
import type { Strain } from './house.ts';
import type { Seeded } from './seeded.ts';

/** A logistic fall from the original gravity, which it meets at the moment of pitching. */
export type Curve = {
  originalSg: number;
  finalSg: number;
  halfTimeHours: number;
  slopePerHour: number;
};

export function fallAt({ halfTimeHours, slopePerHour }: Curve, hours: number): number {
  const risen = (t: number) => 1 / (1 + Math.exp(-slopePerHour * (t - halfTimeHours)));
  const start = risen(0);
  return (risen(hours) - start) / (1 - start);
}

export const gravityAt = (curve: Curve, hours: number) =>
  curve.originalSg - (curve.originalSg - curve.finalSg) * fallAt(curve, hours);

/** Hours by which all but three hundredths of the fall is done. */
export const hoursToEnd = ({ halfTimeHours, slopePerHour }: Curve) =>
  halfTimeHours + Math.log(0.97 / 0.03) / slopePerHour;

/** Fresh yeast is slow at first; tired yeast slower with every generation. */
const freshness = [1.26, 1.11] as const;

export function curveOf(
  strain: Strain,
  {
    originalSg,
    generation,
    weariness,
    chance,
  }: {
    originalSg: number;
    generation: number;
    /** Generations since the line began to tire. */
    weariness: number;
    chance: Seeded;
  },
): Curve {
  const slowness = (freshness[generation] ?? 1) * (1 + 0.09 * weariness);
  const forGravity = 0.6 * (platoFromSg(originalSg) - 10);
  const attenuation = strain.attenuation - 0.007 * weariness + chance.normal(0, 0.005);
  return {
    originalSg,
    finalSg: originalSg - (originalSg - 1) * attenuation,
    halfTimeHours:
      (strain.halfTimeHours + forGravity) * slowness * Math.exp(chance.normal(0, 0.035)),
    slopePerHour: strain.slopePerHour / Math.sqrt(slowness),
  };
}
