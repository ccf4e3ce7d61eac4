import { studentTQuantile } from './betaFunctions.ts';
import { type FermentPace, fermentProgress } from './fermentProgress.ts';
import type { Foretold, HousePace } from './housePace.ts';
import { valueAt } from './valueAt.ts';

/** One ferment that could be: its pace and where it ends, with the place it had in the lattice. */
export type PlausibleFerment = FermentPace & {
  originalDegrees: number;
  endDegrees: number;
  /** A further evenly spread number, 0 to 1, for whatever is added to the ferment. */
  spare: number;
};

/** Points of the lattice, a prime, and its generator [LEcuyerLemieux2000], from memory. */
const LATTICE = { points: 1021, generator: 76 } as const;

/**
 * Ferments spread evenly over what a house pace foretells, each as likely as the next.
 *
 *   (h, b, attenuation) at lattice points i (1, a, a^2, a^3) mod n, through the quantiles of Student's t
 *
 * @param pace  as `housePace` returns it
 * @param originalDegrees  original gravity [degrees] > 0
 * @returns 1021 ferments, the same for the same pace
 *
 * A rank-one lattice stands for random draws, so that the same records always give the same answer.
 * Source: [LEcuyerLemieux2000].
 */
export function plausibleFerments(pace: HousePace, originalDegrees: number): PlausibleFerment[] {
  const { lnHalfTime, lnRate, logitAttenuation, correlation } = pace;
  const quantiles = quantileTable(lnHalfTime.degreesOfFreedom);
  const { points, generator } = LATTICE;
  return Array.from({ length: points }, (_, point) => {
    const places: number[] = [point];
    for (let k = 1; k < 4; k++) places.push((valueAt(places, k - 1) * generator) % points);
    const [zHalf = 0, zOther = 0, zEnd = 0] = places.map((place) => valueAt(quantiles, place));
    const zRate = correlation * zHalf + Math.sqrt(1 - correlation ** 2) * zOther;
    const attenuation = 1 / (1 + Math.exp(-along(logitAttenuation, zEnd)));
    return {
      halfTimeHours: Math.exp(along(lnHalfTime, zHalf)),
      ratePerHour: Math.exp(along(lnRate, zRate)),
      originalDegrees,
      endDegrees: originalDegrees * (1 - attenuation),
      spare: (valueAt(places, 3) + 0.5) / points,
    };
  });
}

/**
 * Excess gravity of such a ferment at a time.
 *
 *   OG - (OG - Pe) f(t)
 *
 * @param ferment  pace and gravities [degrees]
 * @param hours  time since the pitch [h]
 * @returns excess gravity [degrees]
 *
 * Source: [ASBCYeast14].
 */
export function degreesAt(
  ferment: FermentPace & { originalDegrees: number; endDegrees: number },
  hours: number,
): number {
  const { originalDegrees, endDegrees } = ferment;
  return originalDegrees - (originalDegrees - endDegrees) * fermentProgress(ferment, hours);
}

const along = ({ centre, scale }: Foretold, z: number) => centre + scale * z;

function quantileTable(degreesOfFreedom: number): number[] {
  const { points } = LATTICE;
  const upper = Array.from({ length: (points - 1) / 2 }, (_, i) =>
    studentTQuantile(((points + 1) / 2 + i + 0.5) / points, degreesOfFreedom),
  );
  return [...upper.map((z) => -z).reverse(), 0, ...upper];
}
