import { clear, countAndStain, plate, plates } from './bench.ts';
import { type Brew, type Brewery, brew, wearinessAt } from './brew.ts';
import { blendAll, freshCulture, skim } from './cropping.ts';
import { cellsWanted, type Ferment } from './ferment.ts';
import { countInVessel, mistype, runToCask } from './follow.ts';
import { type Beer, beers, people, type StrainName, type VesselName } from './house.ts';
import { stamp } from './log.ts';
import type { Lot } from './lots.ts';

/** The week before this one's present: the last that has gone its usual way. */
export const lastWeek = 77;

/** The day, counted from today, of the first brew of a week. Tomorrow begins the week to come. */
export const firstDayOf = (week: number) => 1 - 7 * (lastWeek + 1 - week);

export type LineStart = {
  origin: 'bought' | 'propagation';
  isTiring?: boolean;
  note?: string;
};

/** Where each line begins, by week. Tern in the seventieth is the present line. */
export const lineStarts: Record<StrainName, Readonly<Record<number, LineStart>>> = {
  Tern: {
    0: { origin: 'propagation' },
    9: { origin: 'bought' },
    18: { origin: 'propagation' },
    27: { origin: 'propagation', note: 'Nine generations planned, then fresh again' },
    36: { origin: 'bought', isTiring: true },
    46: { origin: 'propagation', note: 'Takes over from a line that had grown slow' },
    53: { origin: 'bought', note: 'After the wild yeast: nothing of the old line is kept' },
    62: { origin: 'propagation' },
    70: { origin: 'propagation' },
  },
  Fulmar: {
    0: { origin: 'bought' },
    11: { origin: 'propagation' },
    23: { origin: 'propagation' },
    34: { origin: 'bought' },
    46: { origin: 'propagation' },
    57: { origin: 'propagation' },
    69: { origin: 'bought' },
  },
};

/** Weeks in which something out of the ordinary is done. */
const isWashWeek = (week: number) => week % 6 === 2;
const isSpareSkimWeek = (week: number) => week % 4 === 1;
const blendWeeks = [5, 25, 57];
const twoLotWeeks = [21, 33, 49, 65, 73];
const isReserveWeek = (week: number) => week % 3 === 0 && week !== 51;
const isPlateWeek = (week: number) => week % 2 === 0;
export const coldStoreFailedIn = 14;

/** The yeast in hand of one strain, and how its line fares. */
export type InHand = { lots: readonly Lot[]; isTiring: boolean };

/** Brings in fresh culture in the weeks a line begins; otherwise the yeast in hand stays. */
export function renewed(
  brewery: Brewery,
  name: StrainName,
  inHand: InHand,
  { week, brewDay, beer }: { week: number; brewDay: number; beer: Beer },
): InHand {
  const start = lineStarts[name][week];
  if (start === undefined) return inHand;
  const { calendar, house, store } = brewery;
  for (const lot of inHand.lots) {
    const ms = calendar.at(brewDay, 8.2);
    store.temperatures(lot, ms);
    store.discard(lot, ms, 'The line ends, fresh culture is in');
  }
  const originalGravitySg = beer.originalGravitySg;
  const volumeL = house.vessels.FV2.brewLengthL;
  const cells = cellsWanted(house.strains[name], { volumeL, originalGravitySg });
  const ms = calendar.at(brewDay - 1, 15);
  const { isTiring = false, ...facts } = start;
  return {
    lots: [freshCulture(brewery, house.strains[name], { ms, cells, ...facts })],
    isTiring,
  };
}

/** Counts and stains every lot in the morning, washes one now and then, and brews at noon. */
export function brewDay(
  brewery: Brewery,
  inHand: InHand,
  facts: Pick<Brew, 'beer' | 'vessels' | 'share'> & { day: number; hour?: number; week: number },
): Ferment {
  const { calendar, log } = brewery;
  const { day, hour = 12.3, week } = facts;
  inHand.lots.forEach((lot, index) => {
    countAndStain(log, lot, calendar.at(day, 7.4 + 0.45 * index));
  });
  const [lot] = inHand.lots;
  if (isWashWeek(week) && lot !== undefined && lot.generation > 1 && lot.unit === 'kg')
    log.write({
      kind: 'treatment',
      ...stamp(calendar.at(day, hour - 1.4), people.lab),
      lotId: lot.id,
      treatment: 'acid wash',
      agent: 'phosphoric acid',
      ph: 2.2,
      tempC: 3,
      minutes: 60,
    });
  const ferment = brew(brewery, {
    ...facts,
    ...inHand,
    collectedMs: calendar.at(day, hour),
  });
  if (week % 3 === 0) countInVessel(brewery, ferment, ferment.pitchedMs + 75 * 60_000);
  return ferment;
}

/** Plates what was pitched, in the weeks for it, and throws the rest away. */
export function finish(
  brewery: Brewery,
  lots: readonly Lot[],
  { day, week, why }: { day: number; week: number; why: string },
): void {
  const { calendar, log, store } = brewery;
  const [lot] = lots;
  const kind = week % 4 === 0 ? plates.bacteria : week % 8 === 2 ? plates.lysine : plates.wild;
  if (isPlateWeek(week) && lot !== undefined)
    plate(log, lot, {
      plate: kind,
      ms: calendar.at(day, 14.2),
      dueMs: calendar.at(day + kind.days, 8.6),
      result: clear,
    });
  for (const each of lots) {
    store.temperatures(each, calendar.at(day, 14.6));
    store.discard(each, calendar.at(day, 14.6), why);
  }
}

const ternBeers = [beers.bitter, beers.pale, beers.gold, beers.bitter, beers.mild] as const;
const fulmarBeers = [beers.porter, beers.stout, beers.porter, beers.strong] as const;
const turn = <T>(items: readonly [T, ...T[]], week: number): T =>
  items[week % items.length] ?? items[0];

const largeFirst: readonly [readonly VesselName[], ...(readonly VesselName[])[]] = [
  ['FV4', 'FV3', 'FV2', 'FV1'],
  ['FV6', 'FV4', 'FV3', 'FV2', 'FV1'],
  ['FV3', 'FV4', 'FV2', 'FV1'],
];

/** The first Tern brew of a week, its crops, and the lots kept of them. */
export function ternBrew(brewery: Brewery, inHand: InHand, week: number) {
  const day = firstDayOf(week);
  const beer = turn(ternBeers, week);
  const yeast = renewed(brewery, 'Tern', inHand, { week, brewDay: day, beer });
  const ferment = brewDay(brewery, yeast, { beer, vessels: turn(largeFirst, week), day, week });
  finish(brewery, yeast.lots, { day, week, why: 'Left over after pitching' });
  return { ferment, yeast };
}

export function ternCrops(brewery: Brewery, ferment: Ferment, isTiring: boolean, week: number) {
  const { calendar, store } = brewery;
  const day = firstDayOf(week) + 2;
  const weariness = wearinessAt(ferment.generation + 1, isTiring);
  const second = skim(brewery, ferment, {
    ...{ ms: calendar.at(day, 10.4), cut: 'skim 2', ratio: 2.9, weariness },
  });
  if (!isSpareSkimWeek(week)) return [second];
  const later = skim(brewery, ferment, {
    ...{ ms: calendar.at(day, 17.3), cut: 'later skim', ratio: 0.5, weariness },
  });
  if (blendWeeks.includes(week)) {
    const ms = calendar.at(day + 1, 9.3);
    store.temperatures(second, ms);
    store.temperatures(later, ms);
    return [blendAll(brewery, second, later, ms)];
  }
  if (twoLotWeeks.includes(week)) return [later, second];
  const ms = calendar.at(day + 2, 14.7);
  store.temperatures(later, ms);
  store.discard(later, ms, 'Spare, not needed');
  return [second];
}

/** The second Tern brew, from the crop of the first; now and then a reserve is taken from it. */
export function secondTernBrew(brewery: Brewery, yeast: InHand, week: number): Ferment {
  const day = firstDayOf(week) + 4;
  const lot = yeast.lots.at(-1);
  return brewDay(
    brewery,
    { ...yeast, lots: lot === undefined ? [] : [lot] },
    {
      ...{ beer: turn(ternBeers, week + 2), vessels: ['FV3', 'FV2', 'FV1'], share: 0.42 },
      ...{ day, week },
    },
  );
}

export function reserve(brewery: Brewery, ferment: Ferment, week: number): Lot {
  const ms = brewery.calendar.at(firstDayOf(week) + 6, 10.4);
  return skim(brewery, ferment, { ms, cut: 'skim 2', ratio: 2.6, note: 'Reserve' });
}

/** The crop of last week's Fulmar brew. */
export function fulmarInHand(brewery: Brewery, { dark }: Hands, week: number): InHand {
  const ms = brewery.calendar.at(firstDayOf(week), 10.7);
  const crop = dark && skim(brewery, dark, { ms, cut: 'skim 2', ratio: 2.6 });
  return { lots: crop === undefined ? [] : [crop], isTiring: false };
}

/** The Fulmar brew of a week, from the crop of the week before. */
export function fulmarBrew(brewery: Brewery, inHand: InHand, week: number): Ferment {
  const day = firstDayOf(week) + 5;
  const beer = turn(fulmarBeers, week);
  const yeast = renewed(brewery, 'Fulmar', inHand, { week, brewDay: day, beer });
  const vessels = week % 2 === 0 ? smallFirst : smallFirst.toReversed();
  const ferment = brewDay(brewery, yeast, { beer, vessels, day, week });
  finish(brewery, yeast.lots, { day, week: week + 1, why: 'Left over after pitching' });
  return ferment;
}

const smallFirst: readonly VesselName[] = ['FV5', 'FV1', 'FV2'];

/** What a week hands on to the next. */
export type Hands = {
  tern: InHand;
  /** The second Tern brew and the Fulmar brew, whose crops are still to be taken. */
  second: Ferment | undefined;
  dark: Ferment | undefined;
};

export const emptyHands: Hands = {
  tern: { lots: [], isTiring: false },
  second: undefined,
  dark: undefined,
};

/** A week as it usually goes: Tern, Tern again from its crop, Fulmar. */
export function usualWeek(brewery: Brewery, hands: Hands, week: number): Hands {
  const { calendar, store } = brewery;
  const { ferment: first, yeast } = ternBrew(brewery, hands.tern, week);
  const { isTiring } = yeast;
  runToCask(brewery, first);
  if (week % 13 === 4) mistype(brewery, first, calendar.at(firstDayOf(week) + 1, 10.1));
  const slurry = fulmarInHand(brewery, hands, week);
  const tern = { lots: ternCrops(brewery, first, isTiring, week), isTiring };
  const second = secondTernBrew(brewery, tern, week);
  runToCask(brewery, second);
  const dark = fulmarBrew(brewery, slurry, week);
  runToCask(brewery, dark);
  if (week === coldStoreFailedIn)
    return { ...afterFailure(brewery, tern, reserve(brewery, second, week), week), second, dark };
  if (isReserveWeek(week)) {
    const spare = reserve(brewery, second, week);
    const ms = calendar.at(firstDayOf(week) + 9, 9.5);
    store.temperatures(spare, ms);
    store.discard(spare, ms, 'Reserve, not needed');
  }
  return { tern, second, dark };
}

/** The cold store failed overnight: what stood in it is thrown away, the reserve takes its place. */
function afterFailure(brewery: Brewery, tern: InHand, spare: Lot, week: number): { tern: InHand } {
  const { calendar, store } = brewery;
  const day = firstDayOf(week) + 5;
  const ms = calendar.at(day + 1, 8.9);
  for (const lot of tern.lots) {
    store.temperatures(lot, ms, { [`${day} evening`]: 9.4, [`${day + 1} morning`]: 13.1 });
    store.discard(lot, ms, 'Cold store failed overnight, yeast at 13 °C', people.head);
  }
  return { tern: { ...tern, lots: [spare] } };
}
