import { abvBalling, abvHmrc } from '#shared/science/alcohol.ts';
import { apparentAttenuation, realAttenuation } from '#shared/science/attenuation.ts';

/** What a fall of gravity means; the two strengths rest on different rules and are never mixed. */
export type AttenuationReached = {
  originalGravitySg: number;
  presentGravitySg: number;
  apparentPercent: number;
  realPercent: number;
  abvBallingPercent: number;
  /** Null where the fall lies beyond the table of factors. */
  abvHmrcPercent: number | null;
};

/** Attenuation and strength from two gravities; null where nothing fell. */
export function attenuationReached(
  originalGravitySg: number,
  presentGravitySg: number,
): AttenuationReached | null {
  if (!(originalGravitySg > 1.001 && presentGravitySg <= originalGravitySg)) return null;
  return {
    originalGravitySg,
    presentGravitySg,
    apparentPercent: 100 * apparentAttenuation(originalGravitySg, presentGravitySg),
    realPercent: 100 * realAttenuation(originalGravitySg, presentGravitySg),
    abvBallingPercent: abvBalling(originalGravitySg, presentGravitySg),
    abvHmrcPercent: abvHmrc(originalGravitySg, presentGravitySg) ?? null,
  };
}
