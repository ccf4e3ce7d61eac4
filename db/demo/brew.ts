import { minuteMs } from '#shared/durations.ts';
import { curveOf } from './curve.ts';
import { type Brewhouse, cellsWanted, collect, type Ferment, pitchInto } from './ferment.ts';
import type { Beer, House, Vessel, VesselName } from './house.ts';
import { type Lot, livingCellsPerUnit } from './lots.ts';
import { seeded } from './seeded.ts';

/** The demo brewery at work: what it owns, and the number of its next gyle. */
export type Brewery = Brewhouse & { house: House; nextGyle: () => string };

export type Brew = {
  beer: Beer;
  lots: readonly Lot[];
  /** Fermenters to try, in order. */
  vessels: readonly VesselName[];
  /** Part of the yeast in hand that this brew may use. */
  share?: number;
  /** Part of the target that is really pitched. */
  pitchShare?: number;
  collectedMs: number;
  isTiring?: boolean;
  oxygenMgPerL?: number;
  note?: string;
  pitchNote?: string;
  /** The planned brew it carries out; null for none. */
  plannedBrewId?: string | null;
};

/** Collects a wort into the first fermenter the yeast suffices for, and pitches it. */
export function brew(brewery: Brewery, facts: Brew): Ferment {
  const { beer, lots, collectedMs } = facts;
  const strain = brewery.house.strains[beer.strain];
  const vessel = roomFor(brewery.house, facts);
  const gyle = brewery.nextGyle();
  const { oxygenMgPerL, note, pitchNote, plannedBrewId } = facts;
  const wort = collect(brewery, {
    ...{ gyle, beer, strain, vessel, collectedMs },
    ...(oxygenMgPerL === undefined ? {} : { oxygenMgPerL }),
    ...(note === undefined ? {} : { note }),
    ...(plannedBrewId === undefined ? {} : { plannedBrewId }),
  });
  const pitchedMs = collectedMs + 40 * minuteMs;
  const { livingCells, generation } = pitchInto(brewery, wort.id, {
    lots,
    cells: cellsWanted(strain, wort) * (facts.pitchShare ?? 1),
    ms: pitchedMs,
    ...(pitchNote === undefined ? {} : { note: pitchNote }),
  });
  const curve = curveOf(strain, {
    originalSg: wort.originalGravitySg,
    generation,
    weariness: wearinessAt(generation, facts.isTiring),
    chance: seeded(`curve ${gyle}`),
  });
  vessel.freeFromMs = Number.POSITIVE_INFINITY;
  return { ...wort, gyle, beer, strain, vessel, pitchedMs, generation, livingCells, curve };
}

/** Generations since a tiring line began to tire; none for a sound one. */
export const wearinessAt = (generation: number, isTiring = false) =>
  isTiring ? Math.max(0, generation - 5) : 0;

function roomFor(house: House, { beer, lots, vessels, share = 1, ...facts }: Brew): Vessel {
  const cells = share * lots.reduce((sum, lot) => sum + lot.left * livingCellsPerUnit(lot), 0);
  const wanted = (vessel: Vessel) =>
    cellsWanted(house.strains[beer.strain], {
      volumeL: vessel.brewLengthL,
      originalGravitySg: beer.originalGravitySg,
    }) * (facts.pitchShare ?? 1);
  const free = vessels
    .map((name) => house.vessels[name])
    .filter((vessel) => vessel.freeFromMs < facts.collectedMs);
  const smallest = free.toSorted((a, b) => a.brewLengthL - b.brewLengthL)[0];
  const room = free.find((vessel) => wanted(vessel) <= cells) ?? smallest;
  if (room === undefined) throw new Error(`No fermenter is free for ${beer.name}.`);
  return room;
}
