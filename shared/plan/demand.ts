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

type Gyle = { id: string; record: Recorded<'ferment'> };

/**
 * The ferment that each planned brew became: same strain and beer, collected on its day or, where no
 * brew of that day claims it, a day before or after. A ferment is one brew.
 */
export function brewedAs<F extends Gyle>(
  brews: readonly Recorded<'plannedBrew'>[],
  ferments: readonly F[],
  dayOf: (epochMs: number) => string,
): Map<string, F> {
  const brewed = new Map<string, F>();
  const taken = new Set<string>();
  for (const shift of [0, -1, 1]) {
    for (const brew of brews.filter(({ id }) => !brewed.has(id))) {
      const day = dayAfter(brew.onDay, shift);
      const became = ferments.find(
        ({ id, record }) =>
          !taken.has(id) && isOf(record, brew) && dayOf(Date.parse(record.happenedAt)) === day,
      );
      if (became === undefined) continue;
      brewed.set(brew.id, became);
      taken.add(became.id);
    }
  }
  return brewed;
}

/** Brews planned from a day on that have not become a ferment yet. */
export function brewsToCome(
  brews: readonly Recorded<'plannedBrew'>[],
  ferments: readonly Gyle[],
  { fromDay, dayOf }: { fromDay: string; dayOf: (epochMs: number) => string },
): Recorded<'plannedBrew'>[] {
  const brewed = brewedAs(brews, ferments, dayOf);
  return brews.filter(({ id, onDay }) => onDay >= fromDay && !brewed.has(id));
}

const isOf = (record: Recorded<'ferment'>, { strainId, beer }: Recorded<'plannedBrew'>) =>
  record.strainId === strainId && named(record.beer) === named(beer);
const named = (beer: string) => beer.trim().toLowerCase();
