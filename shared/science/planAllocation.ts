import { mostThatCouldBeFed } from './planBound.ts';
import { type Shortage, shortageOf } from './planShortage.ts';
import { feedOptions, type Stock, startingStock, withCrops } from './planStock.ts';
import { refuse } from './refusal.ts';

/** A brew to come. Hours are of any one clock, such as hours since 1970. */
export type PlannedBrew = {
  id: string;
  strainId: string;
  atHours: number;
  neededCells: number;
  /** Highest generation that may be pitched into it. */
  mostGeneration?: number | undefined;
  leastViability?: number | undefined;
};

/** Yeast in store, or of a ferment already running whose crop is expected at `readyAtHours`. */
export type LotInStore = {
  id: string;
  strainId: string;
  readyAtHours: number;
  expiresAtHours: number;
  /** Living cells when ready, and the share that is alive then. */
  viableCells: number;
  viability?: number | undefined;
  /** First-order loss of living cells [1/h]. */
  lossPerHour?: number | undefined;
  generation: number;
  isHeld?: boolean | undefined;
};

/** What a planned brew should yield; it comes only if that brew is fed, one generation on. */
export type CropToCome = {
  id: string;
  fromBrewId: string;
  readyAtHours: number;
  expiresAtHours: number;
  viableCells: number;
  viability?: number | undefined;
  lossPerHour?: number | undefined;
};

export type FedBrew = {
  brewId: string;
  generation: number;
  parts: { lotId: string; cells: number; shareOfLot: number }[];
};

export type Allocation = {
  fed: FedBrew[];
  shortages: Shortage[];
  /** Share of each lot that no brew takes. */
  left: { lotId: string; share: number; expiresAtHours: number }[];
  /** Whether no allocation can feed more brews, as far as was searched. */
  isProvenBest: boolean;
};

/** Lots that may go into one brew, and states looked at before the search settles for what it has. */
export const ALLOCATION_LIMITS = { lotsPerBrew: 2, states: 20_000 } as const;

type Found = { fed: FedBrew[]; stock: Stock[] };

/**
 * Which lot feeds which planned brew, and which brews fall short.
 *
 *   most brews fed; of those, the earlier brews; of those, the lot that expires first
 *
 * @param plan  brews, lots and crops to come, each id once; a crop names a planned brew
 * @returns brews fed with their lots and generation, shortages with reasons, and what is left over
 * @throws RangeError for an id used twice, an unknown brew, or a number outside its bounds
 *
 * A brew is fed whole or not at all, from at most two lots; a held lot never, nor one not yet ready,
 * expired, too old in generation or too poor in viability; never more than there is. Searched by depth
 * first: small plans to the end, large ones to 20,000 states. Source: own method.
 */
export function allocatePlan(plan: {
  brews: readonly PlannedBrew[];
  lots: readonly LotInStore[];
  crops: readonly CropToCome[];
}): Allocation {
  requireSound(plan);
  const brews = plan.brews.toSorted((a, b) => a.atHours - b.atHours);
  let best: Found | undefined;
  let states = 0;

  function search(next: number, fed: FedBrew[], stock: Stock[]): void {
    states++;
    const brew = brews[next];
    if (brew === undefined) {
      if (best === undefined || fed.length > best.fed.length) best = { fed, stock };
      return;
    }
    const reach = fed.length + mostThatCouldBeFed(brews.slice(next), stock, plan.crops);
    if (best !== undefined && (reach <= best.fed.length || states > ALLOCATION_LIMITS.states))
      return;
    for (const option of feedOptions(brew, stock)) {
      search(next + 1, [...fed, option.fed], withCrops(option.stock, option.fed, plan.crops, brew));
    }
    search(next + 1, fed, stock);
  }

  search(0, [], startingStock(plan.lots));
  const { fed, stock }: Found = best ?? { fed: [], stock: [] };
  const isFed = new Set(fed.map(({ brewId }) => brewId));
  return {
    fed,
    shortages: brews.filter(({ id }) => !isFed.has(id)).map((brew) => shortageOf(brew, stock)),
    left: stock.map(({ id, share, expiresAtHours }) => ({ lotId: id, share, expiresAtHours })),
    isProvenBest: states <= ALLOCATION_LIMITS.states,
  };
}

function requireSound(plan: Parameters<typeof allocatePlan>[0]): void {
  const supplies = [...plan.lots, ...plan.crops];
  for (const list of [plan.brews, supplies]) {
    if (new Set(list.map(({ id }) => id)).size !== list.length) {
      refuse('allocatePlan', 'each id must be used once', list.map(({ id }) => id).join());
    }
  }
  for (const { neededCells, atHours, id } of plan.brews) {
    if (!(neededCells > 0 && neededCells < Infinity && Number.isFinite(atHours))) {
      refuse('allocatePlan', 'a brew must have cells > 0 and a time', id);
    }
  }
  for (const { viableCells, readyAtHours, expiresAtHours, lossPerHour = 0, id } of supplies) {
    const isSound = viableCells >= 0 && viableCells < Infinity && lossPerHour >= 0;
    if (!(isSound && readyAtHours <= expiresAtHours)) {
      refuse(
        'allocatePlan',
        'a lot must have cells and loss >= 0 and expire after it is ready',
        id,
      );
    }
  }
  const brewIds = new Set(plan.brews.map(({ id }) => id));
  for (const { fromBrewId } of plan.crops) {
    if (!brewIds.has(fromBrewId)) refuse('allocatePlan', 'fromBrewId must be planned', fromBrewId);
  }
}
