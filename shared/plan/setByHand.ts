import { cellsAt } from '#shared/science/planStock.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import { hourMs } from '../durations.ts';
import { cropId } from './cropSupply.ts';
import type { Demand, Gyle } from './demand.ts';
import type { Supply } from './supply.ts';

/** Which yeast was set by hand for a brew; `supply` is missing when that yeast is gone. */
export type SetByHand = {
  record: Recorded<'allotment'>;
  supply: Supply | undefined;
  /** Living cells of the amount set aside, when the brew is pitched; as needed when undefined. */
  cells: number | undefined;
};

type Known = {
  supplies: readonly Supply[];
  lots: readonly LotStanding[];
  /** The gyles that planned brews have become, by the id of the plan. */
  brewed: ReadonlyMap<string, Gyle>;
};

/** What was set by hand for one brew, the latest word on each yeast. */
export function setByHand(
  demand: Demand,
  allotments: readonly Recorded<'allotment'>[],
  known: Known,
): SetByHand[] {
  const found = allotments
    .filter(({ plannedBrewId }) => plannedBrewId === demand.id)
    .map((record): SetByHand => {
      const supply = supplyOf(record, known);
      return { record, supply, cells: supply && cellsSetAside(record, supply, demand) };
    });
  return found.filter(
    ({ supply }, index) =>
      supply === undefined || found.findLastIndex((each) => each.supply === supply) === index,
  );
}

/** A crop once taken is a lot, and a planned brew once brewed a ferment: the choice follows it. */
function supplyOf(
  { fromLotId, fromFermentId, fromBrewId }: Recorded<'allotment'>,
  { supplies, lots, brewed }: Known,
): Supply | undefined {
  const byId = (id: string) => supplies.find(({ stock }) => stock.id === id);
  if (fromLotId !== undefined) return byId(fromLotId);
  const fermentId = fromFermentId ?? brewed.get(fromBrewId ?? '')?.id;
  if (fermentId === undefined) return byId(cropId(fromBrewId ?? ''));
  const taken = lots.find(({ fromFerment }) => fromFerment?.id === fermentId);
  return byId(cropId(fermentId)) ?? (taken && byId(taken.id));
}

function cellsSetAside(
  { amountL, amountKg }: Recorded<'allotment'>,
  { stock, source, generation }: Supply,
  demand: Demand,
): number | undefined {
  const amount = amountL ?? amountKg;
  if (amount === undefined || source.left === null || !(source.left.amount > 0)) return undefined;
  const share = amount / source.left.amount;
  const cells = cellsAt({ ...stock, generation: generation ?? 0, share }, demand.atMs / hourMs);
  return cells > 0 ? cells : undefined;
}
