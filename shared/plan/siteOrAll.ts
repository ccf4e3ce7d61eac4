import { FEWEST_CROPS, type PastCrop } from './cropYield.ts';
import { type PastBrews, priorBrews } from './failureChance.ts';

type OfStrain = { strainId: string };

/**
 * What is known of each strain at a site where that is enough, else what all sites know of it: what
 * is kept of a head and what spoils it hang on the FVs and hands there.
 */
function siteOrAll<T extends OfStrain>(
  own: readonly T[],
  all: readonly T[],
  isEnough: (known: readonly T[]) => boolean,
): T[] {
  return [...new Set(all.map(({ strainId }) => strainId))].flatMap((id) => {
    const of = (known: readonly T[]) => known.filter(({ strainId }) => strainId === id);
    return isEnough(of(own)) ? of(own) : of(all);
  });
}

export const cropsOfSite = (own: readonly PastCrop[], all: readonly PastCrop[]): PastCrop[] =>
  siteOrAll(own, all, (crops) => crops.length >= FEWEST_CROPS);

/** Enough are as many as the figures believed beforehand count for. */
export const brewsOfSite = (own: readonly PastBrews[], all: readonly PastBrews[]): PastBrews[] =>
  siteOrAll(
    own,
    all,
    (groups) => groups.reduce((sum, { brews }) => sum + brews, 0) >= priorBrews.brews,
  );
