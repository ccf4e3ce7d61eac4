import { dayMs, hourMs } from './durations.ts';
import { remembered } from './remembered.ts';

/** The date [YYYY-MM-DD] that a moment falls on in a time zone. */
export function localDay(timeZone: string): (epochMs: number) => string {
  const format = dateFormat(timeZone);
  return (epochMs) => format.format(epochMs);
}

const mostZones = 64;
// The Swedish form of a date is the ISO one. To make one takes longer than to use it.
const dateFormat = remembered(
  (timeZone: string) => new Intl.DateTimeFormat('sv-SE', { timeZone, dateStyle: 'short' }),
  mostZones,
);

/** Whether a name is one by which times are reckoned: Europe/London, UTC. */
export function isTimeZone(name: string): boolean {
  try {
    return new Intl.DateTimeFormat('en-GB', { timeZone: name }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
}

/** The date so many days on: dates have no hours, so a change of the clocks does not matter. */
export const dayAfter = (day: string, days = 1): string =>
  new Date(Date.parse(`${day}T00:00:00Z`) + days * dayMs).toISOString().slice(0, 10);

/** Whole days from one date to another; negative when the other lies before it. */
export const daysBetween = (from: string, to: string): number =>
  Math.round((Date.parse(`${to}T00:00:00Z`) - Date.parse(`${from}T00:00:00Z`)) / dayMs);

/** The moment at which the wall clocks of a zone show an hour of a date. */
export function momentOn(day: string, hour: number, timeZone: string): number {
  const wallMs = Date.parse(`${day}T00:00:00Z`) + hour * hourMs;
  const wall = wallClock(timeZone);
  // The second step settles the hours beside a change of the clocks.
  const near = wallMs - (wall(wallMs) - wallMs);
  return near + (wallMs - wall(near));
}

/** The wall clock's reading as if it were UTC. */
function wallClock(timeZone: string): (epochMs: number) => number {
  const format = new Intl.DateTimeFormat('sv-SE', {
    ...{ timeZone, dateStyle: 'short', timeStyle: 'medium' },
  });
  return (epochMs) => Date.parse(`${format.format(epochMs).replace(' ', 'T')}Z`);
}
