import type { CropToCome, FedBrew, LotInStore, PlannedBrew } from './planAllocation.ts';

/** A lot with the share of it that is not yet given to a brew. */
export type Stock = LotInStore & { share: number; fromBrewId?: string };

export const blockReasons = [
  'held',
  'not ready yet',
  'expired',
  'generation too high',
  'viability too low',
  'used up',
] as const;
export type BlockReason = (typeof blockReasons)[number];

/** Amounts closer than this share of a need are the same: rounding of shares. */
const ALIKE = 1e-9;

export function startingStock(lots: readonly LotInStore[]): Stock[] {
  return lots.map((lot) => ({ ...lot, share: 1 }));
}

/**
 * Living cells left of a lot at a time.
 *
 *   share x cells exp(-loss (t - ready))
 *
 * @param stock  the lot with its share
 * @param atHours  time [h], from when it is ready on
 * @returns living cells [cells]
 *
 * Source: first-order loss.
 */
export function cellsAt({ share, viableCells, ...lot }: Stock, atHours: number): number {
  return share * viableCells * Math.exp(-(lot.lossPerHour ?? 0) * (atHours - lot.readyAtHours));
}

/**
 * Why a lot of the right strain cannot go into a brew.
 *
 * @param stock  the lot
 * @param brew  the brew
 * @returns the first reason that applies, or undefined when it can
 *
 * Source: own rule; the limits are the brewery's.
 */
export function blockOf(stock: Stock, brew: PlannedBrew): BlockReason | undefined {
  const { atHours, mostGeneration = Infinity, leastViability = 0 } = brew;
  if (stock.isHeld) return 'held';
  if (stock.readyAtHours > atHours) return 'not ready yet';
  if (stock.expiresAtHours < atHours) return 'expired';
  if (stock.generation > mostGeneration) return 'generation too high';
  const kept = Math.exp(-(stock.lossPerHour ?? 0) * (atHours - stock.readyAtHours));
  if ((stock.viability ?? 1) * kept < leastViability) return 'viability too low';
  return stock.share > ALIKE ? undefined : 'used up';
}

/**
 * Every way to feed a brew whole from one lot, or from all of one and some of another.
 *
 * @param brew  the brew
 * @param stock  lots with their shares
 * @returns each way with the stock it leaves; what expires first comes first
 *
 * Source: own method.
 */
export function feedOptions(brew: PlannedBrew, stock: readonly Stock[]) {
  const fit = stock
    .filter((lot) => lot.strainId === brew.strainId && blockOf(lot, brew) === undefined)
    .map((lot) => ({ lot, cells: cellsAt(lot, brew.atHours) }))
    .toSorted((a, b) => a.lot.expiresAtHours - b.lot.expiresAtHours);
  const need = brew.neededCells;
  const isEnough = (cells: number) => cells >= need * (1 - ALIKE);
  const pairs = fit.flatMap((first) => {
    if (isEnough(first.cells)) return [[first]];
    const seconds = fit.filter(
      (second) => second !== first && isEnough(first.cells + second.cells),
    );
    return seconds.map((second) => [first, second]);
  });
  return pairs.map((chosen) => {
    let missing = need;
    const parts = chosen.map(({ lot, cells }) => {
      const taken = Math.min(cells, missing);
      missing -= taken;
      return { lotId: lot.id, cells: taken, shareOfLot: lot.share * (taken / cells) };
    });
    const generation = Math.max(...chosen.map(({ lot }) => lot.generation));
    const fed: FedBrew = { brewId: brew.id, generation, parts };
    return { fed, stock: stock.map((lot) => without(lot, fed)) };
  });
}

/** The stock with the crops that a fed brew will yield, one generation on. */
export function withCrops(
  stock: readonly Stock[],
  fed: FedBrew,
  crops: readonly CropToCome[],
  brew: PlannedBrew,
): Stock[] {
  const coming = crops
    .filter(({ fromBrewId }) => fromBrewId === fed.brewId)
    .map((crop) => ({
      ...crop,
      strainId: brew.strainId,
      generation: fed.generation + 1,
      share: 1,
    }));
  return [...stock, ...coming];
}

function without(lot: Stock, { parts }: FedBrew): Stock {
  const part = parts.find(({ lotId }) => lotId === lot.id);
  return part ? { ...lot, share: Math.max(0, lot.share - part.shareOfLot) } : lot;
}
