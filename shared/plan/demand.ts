import { dayAfter, momentOn } from '#shared/localDay.ts';
import { platoFromSg } from '#shared/science/gravity.ts';
import { viableCellsNeeded } from '#shared/science/pitch.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { Recorded, StrainView } from '#shared/views/recorded.ts';

/** When on its day a planned brew is taken to be pitched: common practice, no source. */
export const PITCHING_HOUR = 12;

/** A wort that will ask for yeast. */
export type Demand = {
  id: string;
  kind: 'planned' | 'collected';
  onDay: string;
  atMs: number;
  beer: string;
  volumeL: number;
  originalGravitySg: number;
  strain: StrainView;
  vessel: string | null;
  note: string | null;
  neededCells: number;
};

type Wort = { volumeL: number; originalGravitySg: number };

/** Living cells that a wort wants at its strain's rate. */
export function cellsFor({ volumeL, originalGravitySg }: Wort, strain: StrainView): number {
  const { rateMillionPerMlPerPlato } = strain;
  const gravityPlato = platoFromSg(originalGravitySg);
  return viableCellsNeeded({ volumeL, gravityPlato, rateMillionPerMlPerPlato });
}

type Facts = {
  brews: readonly Recorded<'plannedBrew'>[];
  strains: readonly StrainView[];
  vessels: readonly { id: string; name: string }[];
  nowMs: number;
  timeZone: string;
};

/** The planned brews as demands, by day. */
export function plannedDemands({ brews, strains, vessels, nowMs, timeZone }: Facts): Demand[] {
  return brews.flatMap((brew): Demand[] => {
    const strain = strains.find(({ id }) => id === brew.strainId);
    if (strain === undefined) return [];
    const { id, onDay, beer, volumeL, originalGravitySg, note } = brew;
    return [
      {
        ...{ id, kind: 'planned', onDay, beer, volumeL, originalGravitySg, strain },
        atMs: Math.max(nowMs, momentOn(onDay, PITCHING_HOUR, timeZone)),
        vessel: vessels.find((vessel) => vessel.id === brew.vesselId)?.name ?? null,
        note: note ?? null,
        neededCells: cellsFor(brew, strain),
      },
    ];
  });
}

/** A ferment that is collected and not pitched yet wants its yeast now. */
export function collectedDemands(
  ferments: readonly FermentStanding[],
  { nowMs, today }: { nowMs: number; today: string },
): Demand[] {
  return ferments
    .filter(({ state }) => state === 'collected')
    .map(({ id, record, strain, vessel }) => ({
      ...{ id, kind: 'collected', onDay: today, atMs: nowMs, strain, vessel },
      beer: record.beer,
      volumeL: record.volumeL,
      originalGravitySg: record.originalGravitySg,
      note: record.note ?? null,
      neededCells: cellsFor(record, strain),
    }));
}

/** A gyle as far as it tells which planned brew it is. */
export type Gyle = { id: string; record: Recorded<'ferment'> };

/**
 * The gyle that each planned brew became: the one that names it. Of gyles that say nothing, one of the
 * same strain and beer, collected on its day or, where no brew of that day claims it, a day before or
 * after. A gyle is one brew.
 */
export function brewedAs<F extends Gyle>(
  brews: readonly Recorded<'plannedBrew'>[],
  gyles: readonly F[],
  dayOf: (epochMs: number) => string,
): Map<string, F> {
  const brewed = new Map<string, F>();
  for (const gyle of gyles)
    if (gyle.record.plannedBrewId != null) brewed.set(gyle.record.plannedBrewId, gyle);
  const silent = new Set(gyles.filter(({ record }) => record.plannedBrewId === undefined));
  for (const shift of [0, -1, 1]) {
    for (const brew of brews.filter(({ id }) => !brewed.has(id))) {
      const day = dayAfter(brew.onDay, shift);
      const became = [...silent].find(
        ({ record }) => isOf(record, brew) && dayOf(Date.parse(record.happenedAt)) === day,
      );
      if (became === undefined) continue;
      brewed.set(brew.id, became);
      silent.delete(became);
    }
  }
  return brewed;
}

/** The planned brews that have not become a gyle, by whether their day has passed. */
export type Unbrewed = {
  toCome: Recorded<'plannedBrew'>[];
  passed: Recorded<'plannedBrew'>[];
};

export function unbrewed(
  brews: readonly Recorded<'plannedBrew'>[],
  gyles: readonly Gyle[],
  { fromDay, dayOf }: { fromDay: string; dayOf: (epochMs: number) => string },
): Unbrewed {
  const brewed = brewedAs(brews, gyles, dayOf);
  const left = brews.filter(({ id }) => !brewed.has(id));
  return {
    toCome: left.filter(({ onDay }) => onDay >= fromDay),
    passed: left.filter(({ onDay }) => onDay < fromDay),
  };
}

type Wanted = Pick<Recorded<'plannedBrew'>, 'strainId' | 'beer'>;

/** Whether what is or was collected is the beer and strain that are planned. */
export const isOf = (collected: Wanted, { strainId, beer }: Wanted) =>
  collected.strainId === strainId && named(collected.beer) === named(beer);
const named = (beer: string) => beer.trim().toLowerCase();
