import { wortDilution } from '#shared/science/wortDilution.ts';

/** Weight of a litre of slurry or barm freed of gas [kg]; 1.03 to 1.08, from memory. */
const SLURRY_KG_PER_L = 1.05;

/** Half a degree shows on a saccharometer, a hundredth of the volume on a dip rod. */
const SHOWS_FROM = { degrees: 0.5, shareOfVolume: 0.01 } as const;

type YeastWithBeer = {
  amount: number;
  unit: 'L' | 'kg';
  /** The beer between the cells; undefined where nobody knows it. */
  beer: { gravitySg: number; abvPercent: number } | undefined;
};

export type BeerInYeast = {
  beerL: number;
  fallDegrees: number;
  abvPercent: number;
  /** Whether anyone could see it in the FV. */
  matters: boolean;
};

/** What the beer held in the yeast does to the wort it is pitched into; lots one after another. */
export function beerInYeast(
  wort: { volumeL: number; gravitySg: number },
  yeasts: readonly YeastWithBeer[],
): BeerInYeast | undefined {
  const known = yeasts.filter(({ beer, amount }) => beer !== undefined && amount > 0);
  if (known.length === 0) return undefined;
  let mixed = { ...wort, fallDegrees: 0, abvPercent: 0 };
  for (const { amount, unit, beer } of known) {
    if (beer === undefined) continue;
    const before = mixed;
    const after = wortDilution(before, {
      volumeL: unit === 'L' ? amount : amount / SLURRY_KG_PER_L,
      beerSg: beer.gravitySg,
      beerAbvPercent: beer.abvPercent,
    });
    mixed = {
      ...after,
      fallDegrees: before.fallDegrees + after.fallDegrees,
      abvPercent: after.abvPercent + (before.abvPercent * before.volumeL) / after.volumeL,
    };
  }
  const beerL = mixed.volumeL - wort.volumeL;
  return {
    beerL,
    fallDegrees: mixed.fallDegrees,
    abvPercent: mixed.abvPercent,
    matters:
      mixed.fallDegrees >= SHOWS_FROM.degrees || beerL >= SHOWS_FROM.shareOfVolume * wort.volumeL,
  };
}
