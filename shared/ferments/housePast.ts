import type { PastFerment } from '#shared/science/housePace.ts';
import { isUsualFerment } from '#shared/science/usualFerment.ts';

/** A finished ferment that may set the band, with the generation of its yeast. */
export type PastCandidate = { generation: number; ferment: PastFerment };

const fermentGroups = ['settled generations', 'first generations'] as const;

/** The ferments that set the band, and which part of a line's life they are from. */
export type HousePast = { group: (typeof fermentGroups)[number]; ferments: PastFerment[] };

/** Generations taken as settled whatever they did; fresh yeast before them is known to be slow. */
const settledGenerations = { from: 2, to: 5 } as const;

/**
 * Past ferments of a site from which its own set the band; below it those of every site do, for a strain
 * new to a site is still better known than published figures tell. A judgement.
 */
export const LEAST_AT_SITE = 5;

/** A later generation passes within the range of so many of the settled ones, in half time and end. */
const passingConfidence = 0.95;

/**
 * Which past ferments a ferment of some generation is held to. Settled yeast is held to generations 2
 * to 5 and to the later ones that did like them, so that a tiring line cannot widen its own band; yeast
 * of the first generations to others of the first.
 */
export function housePast({
  candidates,
  generation,
}: {
  candidates: readonly PastCandidate[];
  generation: number;
}): HousePast {
  const { from, to } = settledGenerations;
  const ofGenerations = (low: number, high: number) =>
    candidates.filter((one) => one.generation >= low && one.generation <= high).map(fermentOf);
  if (generation < from)
    return { group: 'first generations', ferments: ofGenerations(0, from - 1) };
  const settled = ofGenerations(from, to);
  const passed = ofGenerations(to + 1, Infinity).filter((ferment) =>
    isUsualFerment(ferment, settled, passingConfidence),
  );
  return { group: 'settled generations', ferments: [...settled, ...passed] };
}

const fermentOf = ({ ferment }: PastCandidate) => ferment;
