import { logNormalLimits } from '#shared/science/logNormalSum.ts';
import type { PitchStep } from '#shared/science/pitchSteps.ts';
import type { FedBrew } from '#shared/science/planAllocation.ts';
import { dayMs, hourMs } from '../durations.ts';
import { type Allotted, blockedFor } from './allotting.ts';
import { blockWords } from './blockWords.ts';
import type { Demand } from './demand.ts';
import type { PlanAllotment, PlanBrew, PlanPart, PlanSource } from './planView.ts';
import type { SetByHand } from './setByHand.ts';
import type { Supply } from './supply.ts';

/** Chance that a source holds what is asked of it, below which the plan calls a brew tight [-]. */
const SAFE_CHANCE = 0.8;

type Known = {
  supplies: readonly Supply[];
  sources: readonly PlanSource[];
  allotted: Allotted;
  chosen: readonly SetByHand[];
};

/** A brew to come with the yeast the plan gives it. */
export function planBrew(demand: Demand, known: Known): PlanBrew {
  const { supplies, sources, allotted, chosen } = known;
  const { id, strain, atMs, ...facts } = demand;
  const fed = allotted.allocation.fed.find(({ brewId }) => brewId === id);
  const parts = fed === undefined ? [] : partsOf(demand, fed, known);
  const chances = sources.flatMap(({ id: sourceId, chanceEnough }) =>
    chanceEnough !== null && parts.some((part) => part.sourceId === sourceId) ? [chanceEnough] : [],
  );
  const chanceEnough = chances.length === 0 ? null : Math.min(...chances);
  return {
    ...facts,
    id,
    strainId: strain.id,
    at: new Date(atMs).toISOString(),
    state: fed === undefined ? 'short' : (chanceEnough ?? 0) < SAFE_CHANCE ? 'tight' : 'fed',
    generation: fed?.generation ?? null,
    parts,
    chanceEnough,
    options: supplies
      .filter(({ stock, fromBrewId }) => stock.strainId === strain.id && fromBrewId !== id)
      .map((supply) => ({
        sourceId: supply.stock.id,
        label: supply.source.label,
        blocked: blockedFor(demand, supply) ?? null,
      }))
      .filter(({ blocked }) => blocked !== 'not ready yet'),
    allotments: chosen.map((each) => allotmentView(demand, each, known)),
  };
}

function partsOf(demand: Demand, fed: FedBrew, { supplies, sources, chosen }: Known): PlanPart[] {
  return fed.parts.flatMap(({ lotId, cells, shareOfLot }) => {
    const supply = supplies.find(({ stock }) => stock.id === lotId);
    const source = sources.find(({ id }) => id === lotId);
    if (supply === undefined || source === undefined) return [];
    const { left } = supply.source;
    const amount = {
      median: shareOfLot * (left?.amount ?? 0),
      logSd: supply.logSdAt(demand.atMs),
    };
    return [
      {
        sourceId: lotId,
        label: source.label,
        cells,
        amount:
          left === null
            ? shareOf(source.slurry, shareOfLot)
            : { value: amount.median, ...logNormalLimits(amount), unit: left.unit },
        isToCome: left === null,
        shareOfSource: shareOfLot,
        generation: source.generation ?? fed.generation,
        storedDays: Math.max(0, demand.atMs - supply.takenMs) / dayMs,
        viabilityPercent: supply.alivePercentAt(demand.atMs),
        isSetByHand: chosen.some((each) => each.supply === supply),
        why: partWhy(demand, supply, cells),
      },
    ];
  });
}

function shareOf(slurry: PlanSource['slurry'], share: number): PlanPart['amount'] {
  if (slurry === null) return null;
  const { value, low, high, unit } = slurry;
  return { value: share * value, low: share * low, high: share * high, unit };
}

function partWhy(
  { neededCells, strain, atMs }: Demand,
  supply: Supply,
  cells: number,
): PitchStep[] {
  const hours = Math.max(0, atMs / hourMs - supply.stock.readyAtHours);
  return [
    {
      label: 'Living cells the brew needs',
      formula: `${strain.rateMillionPerMlPerPlato} million/mL/°P × °P × volume`,
      value: neededCells,
      unit: 'cells',
    },
    ...supply.source.why,
    {
      label: 'Loss until then',
      formula: 'first order, by its store temperature',
      value: 100 * -Math.expm1(-(supply.stock.lossPerHour ?? 0) * hours),
      unit: '%',
    },
    {
      label: 'Living cells given',
      formula: 'what is needed, at most what is there',
      value: cells,
      unit: 'cells',
    },
  ];
}

function allotmentView(
  demand: Demand,
  { record, supply }: SetByHand,
  { allotted }: Known,
): PlanAllotment {
  const { amountL, amountKg } = record;
  const value = amountL ?? amountKg;
  const holds = supply !== undefined && !allotted.notKept.has(demand.id);
  return {
    recordId: record.id,
    entryId: record.entryId,
    happenedAt: record.happenedAt,
    sourceId: supply?.stock.id ?? null,
    label: supply?.source.label ?? 'yeast that is no longer there',
    amount: value === undefined ? null : { value, unit: amountL === undefined ? 'kg' : 'L' },
    holds,
    why: holds ? 'Set by hand, and kept.' : whyNot(demand, supply),
  };
}

function whyNot(demand: Demand, supply: Supply | undefined): string {
  if (supply === undefined) return 'It was used up, thrown away or struck out since.';
  const reason = blockedFor(demand, supply);
  if (reason !== undefined) return `${blockWords(reason, supply)}.`;
  return 'There is not enough of it, even with one more lot beside it.';
}
