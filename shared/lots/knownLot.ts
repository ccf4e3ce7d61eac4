import { densityFallbacks, logSdFromRange } from '#shared/science/densityFallbacks.ts';
import type { PitchLot } from '#shared/science/lotContribution.ts';
import { normalQuantile } from '#shared/science/normal.ts';
import { REFERENCE_TEMP_C, survivalAfter } from '#shared/science/storage.ts';
import type { LotStanding } from '#shared/views.ts';

/** Taken for yeast that nobody stained: the range that good to poor yeast has. */
export const unstained = { percent: 90, low: 75, high: 98 } as const;

export type KnownLot = {
  standing: LotStanding;
  pitchLot: PitchLot & { id: string };
  /** What the cells rest on: a count, else the kind of yeast it was said to be. */
  density: { counted: true } | { counted: false; fallbackId: string; why: string };
  isStained: boolean;
  /** Share alive now, as far as known [-]. */
  alive: number;
};

/** A lot as the sum of a pitch takes it, from the best evidence there is; or why it cannot. */
export function knownLot(
  standing: LotStanding,
  fallbackId: string,
  use: number | undefined,
): KnownLot | { unusable: string } {
  const { code, stain, unit, left } = standing;
  if (stain !== null && stain.live === 0)
    return { unusable: `No living cell was seen in ${code}: do not pitch it` };
  const concentration = concentrationOf(standing, fallbackId);
  const viability = viabilityOf(standing);
  return {
    standing,
    pitchLot: {
      id: code,
      unit,
      ...concentration.known,
      ...viability,
      available: Math.max(0, left),
      use,
    },
    density: concentration.density,
    isStained: stain !== null,
    alive: viability.viability * (viability.survival ?? 1),
  };
}

function concentrationOf({ count, unit }: LotStanding, fallbackId: string) {
  const basis = unit === 'L' ? 'mL' : 'g';
  const name = unit === 'L' ? 'cellsPerMl' : 'cellsPerG';
  const isUsable = count !== null && count.basis === basis && count.cellsPer.value > 0;
  if (isUsable) {
    const { value, low, high } = count.cellsPer;
    const concentrationLogSd = count.logSd ?? logSdFromRange({ low, high });
    return {
      known: { [name]: value, concentrationLogSd, counted: true },
      density: { counted: true } as const,
    };
  }
  const fallback = densityFallbacks.find(({ id, unit: per }) => id === fallbackId && per === basis);
  const taken = fallback ?? usualFor(unit);
  return {
    known: {
      [name]: taken.central,
      concentrationLogSd: logSdFromRange(taken),
      counted: false,
    },
    density: { counted: false, fallbackId: taken.id, why: whyNoCount(count, basis) } as const,
  };
}

function whyNoCount(count: LotStanding['count'], basis: 'mL' | 'g'): string {
  if (count === null) return 'not counted';
  return count.basis === basis
    ? 'no cells were seen in its count'
    : `counted per ${count.basis}, but measured otherwise`;
}

export const fallbacksFor = (unit: 'L' | 'kg') =>
  densityFallbacks.filter((fallback) => (fallback.unit === 'mL') === (unit === 'L'));

/** The guess to begin with: the widest for slurry, skimmed barm for what is weighed. */
export function usualFor(unit: 'L' | 'kg') {
  const wanted = unit === 'L' ? 'unknown' : 'barm';
  const found = densityFallbacks.find(({ id }) => id === wanted);
  if (found === undefined) throw new RangeError(`usualFor: no usual density named ${wanted}`);
  return found;
}

function viabilityOf({ stain }: LotStanding) {
  if (stain === null)
    return { viability: unstained.percent / 100, viabilityLogSd: logSdFromRange(unstained) };
  const { value, low, high } = stain.percent;
  // So many hours at the reference temperature cost as much as its true history did.
  const hours = 24 * stain.predictedNow.equivalentDays;
  const survival = survivalAfter([{ hours, tempC: REFERENCE_TEMP_C }]);
  return {
    viability: value / 100,
    viabilityLogSd: Math.log(high / low) / (2 * normalQuantile(0.975)),
    survival: survival.fraction,
    survivalLogSd: survival.logSd,
  };
}
