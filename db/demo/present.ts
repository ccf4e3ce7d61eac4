import { hourMs, minuteMs } from '#shared/durations.ts';
import { countAndStain, plate, plates } from './bench.ts';
import { type Brewery, brew } from './brew.ts';
import { brewDay, finish } from './brewDay.ts';
import { skim } from './cropping.ts';
import type { Ferment } from './ferment.ts';
import { chill, countInVessel, look, lookDaily, mistype } from './follow.ts';
import { type Beer, beers, people } from './house.ts';
import { stamp } from './log.ts';
import type { Lot } from './lots.ts';
import { firstDayOf, type Hands, lastWeek } from './weeks.ts';

/** The week that is running now, left as it stands at the moment. */
export function presentWeek(brewery: Brewery, hands: Hands): void {
  const { calendar, store } = brewery;
  const { nowMs } = calendar;
  const chilled = waitingForCask(brewery, hands);
  const [main, late] = cropsOf(brewery, chilled);
  const growing = readyToCrop(brewery, main);
  const { second, dark } = hands;
  if (second === undefined || dark === undefined) throw new Error('The week before is missing.');
  store.temperatures(leftStanding(brewery, second), nowMs);
  const slurry = thinSlurry(brewery, dark);
  sluggish(brewery, slurry);
  justPitched(brewery, main);
  for (const lot of [main, late, slurry]) store.temperatures(lot, nowMs);
  mistype(brewery, growing, growing.pitchedMs + 20.3 * hourMs);
}

/** Written the week before, for a day counted from today. */
function planned(
  { log, calendar, house }: Brewery,
  { onDay, beer, volumeL }: { onDay: number; beer: Beer; volumeL: number },
): string {
  return log.write({
    kind: 'plannedBrew',
    ...stamp(calendar.at(-10, 15 + 0.05 * (onDay + 7)), people.head),
    onDay: calendar.date(onDay),
    beer: beer.name,
    volumeL,
    originalGravitySg: beer.originalGravitySg,
    strainId: house.strains[beer.strain].id,
  });
}

function waitingForCask(brewery: Brewery, { tern }: Hands): Ferment {
  const { calendar, log } = brewery;
  const day = firstDayOf(lastWeek);
  const vessels = ['FV4', 'FV3'] as const;
  const plannedBrewId = planned(brewery, { onDay: day, beer: beers.bitter, volumeL: 3240 });
  const facts = { beer: beers.bitter, vessels, plannedBrewId };
  const ferment = brewDay(brewery, tern, { ...facts, day, week: lastWeek });
  finish(brewery, tern.lots, { day, week: lastWeek, why: 'Left over after pitching' });
  const cooledMs = calendar.at(-2, 16);
  lookDaily(brewery, ferment, cooledMs);
  const wrong = look(brewery, ferment, calendar.at(-2, 9.1));
  log.write({
    kind: 'void',
    ...stamp(calendar.at(-2, 9.3), people.cellar),
    supersedes: wrong.id,
    reason: 'Written to the wrong fermenter',
  });
  chill(brewery, ferment, cooledMs);
  return ferment;
}

/** What was kept of the chilled ferment: the lot of the week, and a later skim nobody has tested. */
function cropsOf(brewery: Brewery, ferment: Ferment): readonly [Lot, Lot] {
  const { calendar } = brewery;
  const main = skim(brewery, ferment, {
    ms: calendar.at(-4, 10.4),
    cut: 'skim 2',
    ratio: 2,
    look: 'firm, cream-coloured',
    smell: 'fresh, fruity',
  });
  const late = skim(brewery, ferment, {
    ms: calendar.at(-4, 17.3),
    cut: 'later skim',
    ratio: 0.6,
    look: 'thinner head, pale',
    smell: 'clean',
  });
  return [main, late];
}

/** Pitched so that at any hour of the day its second head stands and its fall is not yet done. */
function readyToCrop(brewery: Brewery, lot: Lot): Ferment {
  const { calendar } = brewery;
  const hourNow = (calendar.nowMs - calendar.at(0, 0)) / hourMs;
  const [day, hour] = hourNow < 10 ? [-2, 12.3] : hourNow < 17.5 ? [-2, 19.5] : [-1, 9];
  const ferment = brewDay(
    brewery,
    { lots: [lot], isTiring: false },
    {
      ...{ beer: beers.pale, vessels: ['FV3'], day, hour, week: lastWeek },
      plannedBrewId: planned(brewery, { onDay: -2, beer: beers.pale, volumeL: 2430 }),
    },
  );
  lookDaily(brewery, ferment, calendar.nowMs);
  look(brewery, ferment, calendar.ago(0.7));
  return ferment;
}

/** The reserve of the week before, that should have been thrown away. */
function leftStanding(brewery: Brewery, ferment: Ferment): Lot {
  const { calendar, log, store } = brewery;
  const lot = skim(brewery, ferment, {
    ...{ ms: calendar.at(-7, 10.4), cut: 'skim 2', ratio: 1.2, note: 'Reserve' },
  });
  log.write({
    kind: 'discard',
    ...stamp(calendar.at(-5, 9.5), people.cellar),
    lotId: lot.id,
    ...store.draw(lot, lot.left - 3.4),
    why: 'Bin needed',
  });
  return lot;
}

function thinSlurry(brewery: Brewery, ferment: Ferment): Lot {
  return skim(brewery, ferment, {
    ms: brewery.calendar.at(-6, 10.7),
    cut: 'skim 2',
    ratio: 1.5,
    thickness: 0.62,
    look: 'loose, thin',
    smell: 'a little sulphur',
  });
}

/** Little oxygen, and thin slurry pitched by the usual measure: a long lag, and then a plate. */
function sluggish(brewery: Brewery, slurry: Lot): void {
  const { calendar, log } = brewery;
  const started = brew(brewery, {
    beer: beers.porter,
    lots: [slurry],
    vessels: ['FV5'],
    pitchShare: 0.9,
    collectedMs: calendar.ago(32.7),
    // Brewed late, so that its day alone would not tell which brew it is.
    plannedBrewId: planned(brewery, { onDay: -4, beer: beers.porter, volumeL: 810 }),
    oxygenMgPerL: 3.1,
    note: 'Oxygen bottle ran out half way',
    pitchNote: 'By the usual measure, not counted',
  });
  const curve = { ...started.curve, halfTimeHours: 60, slopePerHour: 0.085 };
  const ferment = { ...started, curve };
  countInVessel(brewery, ferment, ferment.pitchedMs + 80 * minuteMs);
  for (const hours of [28, 24.5, 20, 16, 12, 7.5, 2.2]) {
    const ms = calendar.ago(hours);
    if (ms > ferment.pitchedMs + 90 * minuteMs) look(brewery, ferment, ms);
  }
  log.write({
    kind: 'hold',
    ...stamp(calendar.ago(6.5), people.head),
    lotId: slurry.id,
    why: `Gyle ${ferment.gyle} is slow and the slurry smells of sulphur: wait for the plate`,
  });
  plate(log, slurry, {
    plate: plates.bacteria,
    ms: calendar.ago(6),
    dueMs: calendar.at(plates.bacteria.days, 8.5),
    onSuspicion: true,
  });
  countAndStain(log, slurry, calendar.ago(5.6));
}

/** The lot of the week counted and stained again, and pitched into the newest gyle. */
function justPitched(brewery: Brewery, lot: Lot): void {
  const { calendar, log } = brewery;
  countAndStain(log, lot, calendar.ago(4.8));
  const ferment = brew(brewery, {
    beer: beers.gold,
    lots: [lot],
    vessels: ['FV2'],
    collectedMs: calendar.ago(3.4),
    note: 'Extra brew for the harbour festival',
    plannedBrewId: null,
  });
  countInVessel(brewery, ferment, ferment.pitchedMs + 70 * minuteMs);
  look(brewery, ferment, ferment.pitchedMs + 75 * minuteMs);
}
