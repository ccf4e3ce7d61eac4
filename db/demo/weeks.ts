import { watchAgeing } from './ageing.ts';
import { type Brewery, wearinessAt } from './brew.ts';
import { brewDay, finish } from './brewDay.ts';
import { blendAll, skim } from './cropping.ts';
import type { Ferment } from './ferment.ts';
import { mistype, runToCask } from './follow.ts';
import { beers, people, type VesselName } from './house.ts';
import { type InHand, renewed } from './lineStarts.ts';
import type { Lot } from './lots.ts';

/** The week that is running now, counted from 0. */
export const lastWeek = 77;

/** The day, counted from today, of the first brew of a week. Tomorrow begins the week to come. */
export const firstDayOf = (week: number) => 1 - 7 * (lastWeek + 1 - week);

/** Weeks in which something out of the ordinary is done. */
const isSpareSkimWeek = (week: number) => week % 4 === 1;
const blendWeeks = [5, 25, 57];
const twoLotWeeks = [21, 33, 49, 65, 73];
const isReserveWeek = (week: number) => week % 3 === 0 && week !== 51;
const coldStoreFailedIn = 14;

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
  watchAgeing(brewery, yeast, ferment, { day, week });
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
