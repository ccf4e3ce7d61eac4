import {
  type Allocation,
  allocatePlan,
  type CropToCome,
  type LotInStore,
  type PlannedBrew,
} from '#shared/science/planAllocation.ts';
import { type BlockReason, blockOf } from '#shared/science/planStock.ts';
import { hourMs } from '../durations.ts';
import type { Demand } from './demand.ts';
import type { SetByHand } from './setByHand.ts';
import type { Supply } from './supply.ts';

/** A lot that holds this share of what is needed is taken alone: no count tells less apart. */
const CLOSE_ENOUGH = 0.97;

export type Allotted = {
  allocation: Allocation;
  /** The brews whose yeast set by hand cannot be had: they are fed otherwise where that can be. */
  notKept: ReadonlySet<string>;
};

/**
 * Gives the yeast out: first as it was set by hand, then to as many brews as can be. What was set by
 * hand and cannot hold is let go, so that the brew is not left without for its sake.
 */
export function allot(
  demands: readonly Demand[],
  supplies: readonly Supply[],
  chosen: ReadonlyMap<string, readonly SetByHand[]>,
): Allotted {
  const lots = supplies.flatMap(({ stock, generation, fromBrewId }): LotInStore[] =>
    generation === null || fromBrewId !== undefined ? [] : [{ ...stock, generation }],
  );
  const crops = supplies.flatMap(({ stock, fromBrewId }): CropToCome[] =>
    fromBrewId === undefined ? [] : [{ ...stock, fromBrewId }],
  );
  const isWhole = (demand: Demand) =>
    (chosen.get(demand.id) ?? []).every(({ supply }) => supply !== undefined);
  const asked = demands.map((demand) =>
    brewOf(demand, isWhole(demand) ? (chosen.get(demand.id) ?? []) : []),
  );
  const first = allocatePlan({ brews: asked, lots, crops });
  const fed = new Set(first.fed.map(({ brewId }) => brewId));
  const unmet = asked.filter(({ id, from = [] }) => from.length > 0 && !fed.has(id));
  const notKept = new Set([
    ...unmet.map(({ id }) => id),
    ...demands.filter((demand) => !isWhole(demand)).map(({ id }) => id),
  ]);
  if (unmet.length === 0) return { allocation: first, notKept };
  const freed = asked.map((brew) => (notKept.has(brew.id) ? { ...brew, from: [] } : brew));
  return { allocation: allocatePlan({ brews: freed, lots, crops }), notKept };
}

/** Why a yeast cannot go into a brew, all of it being still there; undefined when it can. */
export function blockedFor(demand: Demand, { stock, generation }: Supply): BlockReason | undefined {
  return blockOf({ ...stock, generation: generation ?? 0, share: 1 }, brewOf(demand, []));
}

function brewOf(
  { id, strain, atMs, neededCells }: Demand,
  chosen: readonly SetByHand[],
): PlannedBrew {
  return {
    id,
    strainId: strain.id,
    atHours: atMs / hourMs,
    neededCells,
    leastCells: CLOSE_ENOUGH * neededCells,
    mostGeneration: strain.maxGenerations,
    leastViability: strain.minViabilityPercent / 100,
    from: chosen.flatMap(({ supply, cells }) =>
      supply === undefined ? [] : [{ lotId: supply.stock.id, cells }],
    ),
  };
}
