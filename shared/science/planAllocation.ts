import { mostThatCouldBeFed } from './planBound.ts';
import { type Shortage, shortageOf } from './planShortage.ts';
import { requireSoundPlan } from './planSoundness.ts';
import { feedOptions, type Stock, startingStock, withCrops } from './planStock.ts';

/** A brew to come. Hours are of any one clock, such as hours since 1970. */
export type PlannedBrew = {
  id: string;
  strainId: string;
  atHours: number;
  neededCells: number;
  /** As good as enough; all that is needed when left out. */
  leastCells?: number | undefined;
  /** Highest generation that may be pitched into it. */
  mostGeneration?: number | undefined;
  leastViability?: number | undefined;
  /** Lots set by hand: taken first, as much as is said or as is needed. */
  from?: readonly { lotId: string; cells?: number | undefined }[] | undefined;
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

export type Plan = {
  brews: readonly PlannedBrew[];
  lots: readonly LotInStore[];
  crops: readonly CropToCome[];
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
const ALLOCATION_LIMITS = { lotsPerBrew: 2, states: 20_000 } as const;

type Found = { fed: FedBrew[]; stock: Stock[]; worth: number };

/**
 * Which lot feeds which planned brew, and which brews fall short.
 *
 *   first as many of the brews set by hand as can be, as they were set; then most brews fed; of
 *   those, the earlier brews; of those, the lot that expires first
 *
 * @param plan  brews, lots and crops to come, each id once; a crop names a planned brew
 * @returns brews fed with their lots and generation, shortages with reasons, and what is left over
 * @throws RangeError for an id used twice, an unknown brew, or a number outside its bounds
 *
 * A brew is fed whole or not at all, from at most two lots (from the lots set by hand and at most one
 * more); a held lot never, nor one not yet ready,
 * expired, too old in generation or too poor in viability; never more than there is. Searched by depth
 * first: small plans to the end, large ones to 20,000 states. Source: own method.
 */
export function allocatePlan(plan: Plan): Allocation {
  requireSoundPlan(plan);
  const brews = inOrderOfClaim(plan);
  // One brew fed as it was set outweighs all the others.
  const extraWorth = ({ from = [] }: PlannedBrew) => (from.length > 0 ? brews.length : 0);
  let best: Found | undefined;
  let states = 0;

  function search(next: number, found: Found): void {
    states++;
    const brew = brews[next];
    if (brew === undefined) {
      if (best === undefined || found.worth > best.worth) best = found;
      return;
    }
    const rest = brews.slice(next);
    const extra = rest.reduce((sum, each) => sum + extraWorth(each), 0);
    const reach = found.worth + extra + mostThatCouldBeFed(rest, found.stock, plan.crops);
    if (best !== undefined && (reach <= best.worth || states > ALLOCATION_LIMITS.states)) return;
    for (const option of feedOptions(brew, found.stock)) {
      search(next + 1, {
        fed: [...found.fed, option.fed],
        stock: withCrops(option.stock, option.fed, plan.crops, brew),
        worth: found.worth + 1 + extraWorth(brew),
      });
    }
    search(next + 1, found);
  }

  const nothing: Found = { fed: [], stock: [], worth: 0 };
  search(0, { ...nothing, stock: startingStock(plan.lots) });
  const { fed, stock } = best ?? nothing;
  const byTime = plan.brews.toSorted((a, b) => a.atHours - b.atHours);
  const fedById = new Map(fed.map((each) => [each.brewId, each]));
  return {
    fed: byTime.flatMap(({ id }) => fedById.get(id) ?? []),
    shortages: byTime.filter(({ id }) => !fedById.has(id)).map((brew) => shortageOf(brew, stock)),
    left: stock.map(({ id, share, expiresAtHours }) => ({ lotId: id, share, expiresAtHours })),
    isProvenBest: states <= ALLOCATION_LIMITS.states,
  };
}

/** Brews set by hand and those whose crops they are set to come first, then the rest, each by time. */
function inOrderOfClaim({ brews, crops }: Plan): PlannedBrew[] {
  const claimed = new Set<PlannedBrew>();
  const claim = (brew: PlannedBrew) => {
    if (claimed.has(brew)) return;
    claimed.add(brew);
    for (const { lotId } of brew.from ?? []) {
      const source = crops.find(({ id }) => id === lotId);
      for (const each of brews) if (each.id === source?.fromBrewId) claim(each);
    }
  };
  for (const brew of brews) if ((brew.from ?? []).length > 0) claim(brew);
  const rank = (brew: PlannedBrew) => (claimed.has(brew) ? 0 : 1);
  return brews.toSorted((a, b) => rank(a) - rank(b) || a.atHours - b.atHours);
}
