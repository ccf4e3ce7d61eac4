import { excessDegreesFromSg, sgFromExcessDegrees } from './gravity.ts';
import { refuse, requireNotNegative, requirePositive } from './refusal.ts';

/**
 * Gravity, volume and alcohol of a wort after the beer held in the yeast has gone in with it.
 *
 *   degrees, alcohol and volume mix by volume; beer = slurry (1 - cell share)
 *
 * @param wort  volumeL [L] > 0, gravitySg [-]
 * @param slurry  volumeL [L] >= 0, beerSg [-], beerAbvPercent [%] 0 to 100, cellShare [-] 0 to 1
 * @returns volume of liquid [L], gravity [-], fall of gravity [degrees] and alcohol [%]
 * @throws RangeError outside the bounds above
 *
 * Mixing by volume errs by less than 0.1 degree for slurries below a tenth of the wort.
 * Source: derived.
 */
export function wortDilution(
  wort: { volumeL: number; gravitySg: number },
  slurry: { volumeL: number; beerSg: number; beerAbvPercent: number; cellShare?: number },
) {
  const { beerAbvPercent, cellShare = 0.4 } = slurry;
  requirePositive('wortDilution', 'volumeL', wort.volumeL);
  requireNotNegative('wortDilution', 'slurry volumeL', slurry.volumeL);
  if (!(beerAbvPercent >= 0 && beerAbvPercent <= 100)) {
    refuse('wortDilution', 'beerAbvPercent must be from 0 to 100', beerAbvPercent);
  }
  if (!(cellShare >= 0 && cellShare <= 1)) {
    refuse('wortDilution', 'cellShare must be from 0 to 1', cellShare);
  }
  const beerL = slurry.volumeL * (1 - cellShare);
  const volumeL = wort.volumeL + beerL;
  const before = excessDegreesFromSg(wort.gravitySg);
  const after = (before * wort.volumeL + excessDegreesFromSg(slurry.beerSg) * beerL) / volumeL;
  return {
    volumeL,
    gravitySg: sgFromExcessDegrees(after),
    fallDegrees: before - after,
    abvPercent: (beerAbvPercent * beerL) / volumeL,
  };
}
