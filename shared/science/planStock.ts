import type { CropToCome, FedBrew, LotInStore, PlannedBrew } from './planAllocation.ts';

/** A lot with the share of it that is not yet given to a brew. */
export type Stock = LotInStore & { share: number; fromBrewId?: string };

const blockReasons = [
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

/** Lots of which nothing is given away yet. */
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
 * Every way to feed a brew whole from one lot, or from all of one and some of another; where lots are
 * set by hand, from these first, and what they leave from one more.
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
    .map((lot): Source => ({ lot, cells: cellsAt(lot, brew.atHours), most: Infinity }))
    .toSorted((a, b) => a.lot.expiresAtHours - b.lot.expiresAtHours);
  return waysToFeed(brew, fit).map((way) => {
    let missing = brew.neededCells;
    const parts = way.map(({ lot, cells, most }) => {
      const taken = Math.min(cells, most, missing);
      missing -= taken;
      return { lotId: lot.id, cells: taken, shareOfLot: lot.share * (taken / cells) };
    });
    const used = way.filter(({ lot }) => parts.some((p) => p.lotId === lot.id && p.cells > 0));
    const generation = Math.max(...used.map(({ lot }) => lot.generation));
    const fed = { brewId: brew.id, generation, parts: parts.filter(({ cells }) => cells > 0) };
    return { fed, stock: stock.map((lot) => without(lot, fed)) };
  });
}

/** A lot that can go into a brew: what it holds then, and the most that may be taken of it. */
type Source = { lot: Stock; cells: number; most: number };

function waysToFeed(brew: PlannedBrew, fit: readonly Source[]): Source[][] {
  const { leastCells = brew.neededCells, from = [] } = brew;
  const isEnough = (cells: number) => cells >= leastCells * (1 - ALIKE);
  if (from.length === 0)
    return fit.flatMap((first) => {
      if (isEnough(first.cells)) return [[first]];
      const seconds = fit.filter(
        (second) => second !== first && isEnough(first.cells + second.cells),
      );
      return seconds.map((second) => [first, second]);
    });
  const set = from.flatMap(({ lotId, cells: most = Infinity }) => {
    const source = fit.find(({ lot }) => lot.id === lotId);
    const isThere = source !== undefined && (most === Infinity || most <= source.cells);
    return isThere ? [{ ...source, most }] : [];
  });
  if (set.length < from.length) return [];
  const given = set.reduce((sum, { cells, most }) => sum + Math.min(cells, most), 0);
  if (isEnough(given)) return [set];
  return fit
    .filter(
      ({ lot, cells }) => from.every(({ lotId }) => lotId !== lot.id) && isEnough(given + cells),
    )
    .map((more) => [...set, more]);
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
