import type { CropToCome, PlannedBrew } from './planAllocation.ts';
import type { Stock } from './planStock.ts';

const leastOf = ({ leastCells, neededCells }: PlannedBrew) => leastCells ?? neededCells;

/**
 * Most brews that the yeast could feed if only its amount mattered: no allocation feeds more.
 *
 *   for each strain, the smallest needs first, while their sum is within the stock and the crops to come
 *
 * @param brews  the brews still to be looked at
 * @param stock  lots with their shares
 * @param crops  crops to come of any of these brews
 * @returns a number of brews, at most that of the list
 *
 * Source: relaxation of the allocation.
 */
export function mostThatCouldBeFed(
  brews: readonly PlannedBrew[],
  stock: readonly Stock[],
  crops: readonly CropToCome[],
): number {
  const earliest = Math.min(...brews.map(({ atHours }) => atHours));
  const usable = stock.filter((lot) => !lot.isHeld && lot.expiresAtHours >= earliest);
  let most = 0;
  for (const strainId of new Set(brews.map((brew) => brew.strainId))) {
    const ofStrain = brews.filter((brew) => brew.strainId === strainId);
    const isComing = (crop: CropToCome) => ofStrain.some(({ id }) => id === crop.fromBrewId);
    let cells =
      usable
        .filter((lot) => lot.strainId === strainId)
        .reduce((sum, lot) => sum + lot.share * lot.viableCells, 0) +
      crops.filter(isComing).reduce((sum, crop) => sum + crop.viableCells, 0);
    // As much to spare as the rounding that a feed is allowed.
    cells *= 1 + 1e-6;
    for (const need of ofStrain.map(leastOf).toSorted((a, b) => a - b)) {
      cells -= need;
      if (cells >= 0) most++;
    }
  }
  return most;
}
