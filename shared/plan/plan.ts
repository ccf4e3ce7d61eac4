import { dayAfter, localDay } from '#shared/localDay.ts';
import { chanceBelowValue } from '#shared/science/logNormalSum.ts';
import { priorLossRate } from '#shared/science/storage.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LineStanding } from '#shared/views/lines.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Recorded, StrainView } from '#shared/views/recorded.ts';
import { hourMs } from '../durations.ts';
import { type Allotted, allot } from './allotting.ts';
import { cropId, type House, plannedCrop, runningCrop } from './cropSupply.ts';
import { type CropYield, cropYield, type PastCrop } from './cropYield.ts';
import {
  brewedAs,
  collectedDemands,
  type Demand,
  type Gyle,
  plannedDemands,
  unbrewed,
} from './demand.ts';
import type { PastBrews } from './failureChance.ts';
import { freshNeeds } from './freshNeed.ts';
import { expectedCultures, freshSupply } from './freshSupply.ts';
import { lotSupply } from './lotSupply.ts';
import { planBrew } from './planBrew.ts';
import { planShortage } from './planShortages.ts';
import type { Plan, PlanSource } from './planView.ts';
import { setByHand } from './setByHand.ts';
import type { Supply } from './supply.ts';
import { usualSlurry } from './usualSlurry.ts';

export const HORIZON_DAYS = 28;

type PlanFacts = {
  nowMs: number;
  timeZone: string;
  days: number;
  strains: readonly StrainView[];
  vessels: readonly { id: string; name: string }[];
  /** Planned brews, those of the last days too: they may have been brewed. */
  plannedBrews: readonly Recorded<'plannedBrew'>[];
  /** The gyles that these may have become. */
  gyles: readonly Gyle[];
  /** Lots in store, and those pitched into ferments that run. */
  lots: readonly LotStanding[];
  ferments: readonly FermentStanding[];
  lines: readonly LineStanding[];
  allotments: readonly Recorded<'allotment'>[];
  policies: readonly Recorded<'freshCulturePolicy'>[];
  pastCrops: readonly PastCrop[];
  pastBrews: readonly PastBrews[];
};

/** Which yeast feeds which brew to come, what falls short, and when fresh culture is wanted. */
export function planAhead(facts: PlanFacts): Plan {
  const { nowMs, timeZone, days, strains } = facts;
  const dayOf = localDay(timeZone);
  const fromDay = dayOf(nowMs);
  const toDay = dayAfter(fromDay, days);
  const brewed = brewedAs(facts.plannedBrews, facts.gyles, dayOf);
  const { toCome, passed } = unbrewed(facts.plannedBrews, facts.gyles, { fromDay, dayOf });
  const ahead = toCome.filter(({ onDay }) => onDay <= toDay);
  const demands = [
    ...collectedDemands(facts.ferments, { nowMs, today: fromDay }),
    ...plannedDemands({ ...facts, brews: ahead }),
  ].sort((a, b) => a.atMs - b.atMs);
  const yields = new Map(
    strains.map(({ id }) => [id, cropYield(facts.pastCrops.filter((c) => c.strainId === id))]),
  );
  const expected = expectedCultures({ ...facts, fromDay });
  const supplies = suppliesOf(facts, { demands, yields, expected });
  const chosen = new Map(
    demands.map((demand) => [
      demand.id,
      setByHand(demand, facts.allotments, { ...facts, supplies, brewed }),
    ]),
  );
  const allotted = allot(demands, supplies, chosen);
  const slurryOf = ({ strainId, cells, kind }: Supply['source']) => {
    const strain = strains.find(({ id }) => id === strainId);
    if (strain === undefined || (kind !== 'running crop' && kind !== 'planned crop')) return null;
    const { viability } = yields.get(strainId) ?? cropYield([]);
    return usualSlurry(cells, { strain, lots: facts.lots, viability });
  };
  const sources = sourcesOf(supplies, allotted).map((source) => ({
    ...source,
    slurry: slurryOf(source),
  }));
  const shortages = allotted.allocation.shortages.flatMap((shortage) =>
    demands
      .filter(({ id }) => id === shortage.brewId)
      .map((demand) => {
        const { viability } = yields.get(demand.strain.id) ?? cropYield([]);
        const { lots } = facts;
        return planShortage(shortage, { demand, supplies, sources, lots, viability });
      }),
  );
  return {
    at: new Date(nowMs).toISOString(),
    timeZone,
    fromDay,
    toDay,
    brews: demands.map((demand) =>
      planBrew(demand, { supplies, sources, allotted, chosen: chosen.get(demand.id) ?? [] }),
    ),
    notBrewed: passed,
    sources,
    shortages,
    yields: strains.map(({ id }) => yieldView(id, yields.get(id) ?? cropYield([]))),
    fresh: freshNeeds({ ...facts, demands, shortages, fromDay, expected }),
    isProvenBest: allotted.allocation.isProvenBest,
  };
}

function suppliesOf(
  { lots, ferments, strains, nowMs, timeZone }: PlanFacts,
  {
    demands,
    yields,
    expected,
  }: {
    demands: readonly Demand[];
    yields: ReadonlyMap<string, CropYield>;
    expected: ReadonlyMap<string, string>;
  },
): Supply[] {
  const houseOf = (strainId: string): House => {
    const ours = lots.filter(({ strain }) => strain.id === strainId);
    return {
      cropYield: yields.get(strainId) ?? cropYield([]),
      storeTempC: usualStoreTempC(ours),
      rate: ours[0]?.learned.storageLoss.rate ?? priorLossRate,
    };
  };
  return [
    ...lots.filter(({ left }) => left > 0).map((lot) => lotSupply(lot, nowMs)),
    ...ferments.flatMap(
      (ferment) => runningCrop(ferment, { ...houseOf(ferment.strain.id), lots, nowMs }) ?? [],
    ),
    ...demands.map((demand) => plannedCrop(demand, houseOf(demand.strain.id))),
    ...strains.flatMap((strain) => {
      const expectedOn = expected.get(strain.id);
      return expectedOn === undefined
        ? []
        : freshSupply({ ...houseOf(strain.id), strain, expectedOn, demands, nowMs, timeZone });
    }),
  ];
}

/** The middle of the last temperatures of the lots in hand; undefined when none is known. */
function usualStoreTempC(lots: readonly LotStanding[]): number | undefined {
  const temps = lots.flatMap(({ latestTempC }) => latestTempC ?? []).toSorted((a, b) => a - b);
  return temps[Math.floor(temps.length / 2)];
}

function sourcesOf(
  supplies: readonly Supply[],
  { allocation }: Allotted,
): Omit<PlanSource, 'slurry'>[] {
  const generations = new Map(
    allocation.fed.map(({ brewId, generation }) => [cropId(brewId), generation + 1]),
  );
  return supplies.map(({ source, stock, generation, logSdAt, usualRatio }) => {
    const parts = allocation.fed.flatMap(({ parts }) =>
      parts.filter(({ lotId }) => lotId === stock.id),
    );
    const sharePlanned = parts.reduce((sum, { shareOfLot }) => sum + shareOfLot, 0);
    const cells = {
      median: stock.viableCells,
      logSd: logSdAt(stock.readyAtHours * hourMs),
    };
    const isAsked = sharePlanned > 0;
    return {
      ...source,
      generation: generation ?? generations.get(stock.id) ?? null,
      sharePlanned,
      chanceEnough: isAsked ? 1 - chanceBelowValue(cells, sharePlanned * cells.median) : null,
      toKeep:
        usualRatio === null || !isAsked
          ? null
          : { ratio: sharePlanned * usualRatio.value, usual: usualRatio },
    };
  });
}

function yieldView(strainId: string, { ratio, hours, viability, crops, basis }: CropYield) {
  const viabilityPercent = {
    value: 100 * viability.value,
    low: 100 * viability.low,
    high: 100 * viability.high,
  };
  return { strainId, ratio, hoursToCrop: hours, viabilityPercent, crops, basis };
}
