import { minuteMs } from '#shared/durations.ts';
import { clear, countAndStain, plate, plates } from './bench.ts';
import { type Brew, type Brewery, brew } from './brew.ts';
import type { Ferment } from './ferment.ts';
import { countInVessel } from './follow.ts';
import { people } from './house.ts';
import type { InHand } from './lineStarts.ts';
import { stamp } from './log.ts';
import type { Lot } from './lots.ts';

const isWashWeek = (week: number) => week % 6 === 2;
const isPlateWeek = (week: number) => week % 2 === 0;

/** Counts and stains every lot in the morning, washes one now and then, and brews at noon. */
export function brewDay(
  brewery: Brewery,
  inHand: InHand,
  facts: Pick<Brew, 'beer' | 'vessels' | 'share' | 'plannedBrewId'> & {
    day: number;
    hour?: number;
    week: number;
  },
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
  if (week % 3 === 0) countInVessel(brewery, ferment, ferment.pitchedMs + 75 * minuteMs);
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
