import type { BulkEntry } from '#db/journal/bulk.ts';
import type { Brewery } from './brew.ts';
import { calendarAround } from './calendar.ts';
import { setUpHouse } from './house.ts';
import { openLog } from './log.ts';
import { openStore } from './lots.ts';
import { planAhead } from './plan.ts';
import { presentWeek } from './present.ts';
import { scareFrom, wildYeastScare } from './scare.ts';
import { emptyHands, firstDayOf, lastWeek, usualWeek } from './weeks.ts';

const firstGyle = 301;

/**
 * The whole log of the invented brewery: eighteen months up to a moment, the same for the same
 * moment, in the order it was received.
 */
export function demoEntries(nowMs: number): BulkEntry[] {
  const calendar = calendarAround(nowMs);
  const log = openLog(nowMs);
  const house = setUpHouse(log, calendar, firstDayOf(0) - 5);
  const store = openStore(log, calendar);
  const brewery: Brewery = { log, calendar, store, house, nextGyle: gyles() };
  let hands = emptyHands;
  for (let week = 0; week < lastWeek; week += 1) {
    if (week === scareFrom) {
      hands = wildYeastScare(brewery, hands);
      week += 1;
    } else hands = usualWeek(brewery, hands, week);
  }
  presentWeek(brewery, hands);
  planAhead(brewery, house);
  return log.entries();
}

function gyles(): () => string {
  let last = firstGyle - 1;
  return () => {
    last += 1;
    return String(last);
  };
}
