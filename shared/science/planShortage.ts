import type { PlannedBrew } from './planAllocation.ts';
import { type BlockReason, blockOf, cellsAt, type Stock } from './planStock.ts';

export type Shortage = {
  brewId: string;
  neededCells: number;
  /** Left over for it once the other brews have theirs. */
  availableCells: number;
  missingCells: number;
  /** Lots of its strain that cannot help, each with the reason. */
  blocked: { lotId: string; reason: BlockReason }[];
  /** Crops of planned brews that are fit for it: crop more of these. */
  cropMoreOf: string[];
};

/**
 * What a brew that is not fed lacks, and where more could come from.
 *
 * @param brew  the brew
 * @param stock  what the allocation leaves, crops of fed brews included
 * @returns cells missing, the lots that cannot help, and the planned brews whose crop could
 *
 * A brew that could be fed from three or more lots counts what the two fullest hold. Source: own rule.
 */
export function shortageOf(brew: PlannedBrew, stock: readonly Stock[]): Shortage {
  const ofStrain = stock.filter(({ strainId }) => strainId === brew.strainId);
  const cells = ofStrain
    .filter((lot) => blockOf(lot, brew) === undefined)
    .map((lot) => cellsAt(lot, brew.atHours))
    .toSorted((a, b) => b - a);
  const [first = 0, second = 0] = cells;
  const availableCells = first + second;
  return {
    brewId: brew.id,
    neededCells: brew.neededCells,
    availableCells,
    missingCells: Math.max(0, brew.neededCells - availableCells),
    blocked: ofStrain.flatMap((lot) => {
      const reason = blockOf(lot, brew);
      return reason === undefined ? [] : [{ lotId: lot.id, reason }];
    }),
    cropMoreOf: ofStrain.flatMap((lot) => {
      const reason = blockOf(lot, brew);
      const isFit = reason === undefined || reason === 'used up';
      return lot.fromBrewId !== undefined && isFit ? [lot.fromBrewId] : [];
    }),
  };
}
