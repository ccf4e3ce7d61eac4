import { dayMs } from './durations.ts';

export const dateOrders = ['year first', 'day first', 'month first'] as const;
export type DateOrder = (typeof dateOrders)[number];

type LocalMoment = { at: string; epochMs: number } | { problem: string };

const parts: Record<DateOrder, RegExp> = {
  'year first': /^(?<year>\d{4})[-/.](?<month>\d{1,2})[-/.](?<day>\d{1,2})(?<rest>.*)$/,
  'day first': /^(?<day>\d{1,2})[-/.](?<month>\d{1,2})[-/.](?<year>\d{4})(?<rest>.*)$/,
  'month first': /^(?<month>\d{1,2})[-/.](?<day>\d{1,2})[-/.](?<year>\d{4})(?<rest>.*)$/,
};
const clock = /^[ T]+(?<hour>\d{1,2})[:.](?<minute>\d{2})(?:[:.]\d{2}(?:[.,]\d+)?)?$/;
const withOffset = /^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(?::\d{2}(?:\.\d+)?)?(?:Z|[+-]\d{2}:\d{2})$/;
const examples: Record<DateOrder, string> = {
  'year first': '2026-03-01 09:30',
  'day first': '01/03/2026 09:30',
  'month first': '03/01/2026 09:30',
};

/**
 * Reads a date and time as a person wrote it on the wall clock of a time zone; without a time it is
 * noon. A time that carries its own offset is taken as it is. On the night the clocks change a time
 * that did not exist, or that came twice, is questioned and never guessed.
 */
export function readLocalMoment(typed: string, order: DateOrder, timeZone: string): LocalMoment {
  const text = typed.trim();
  if (withOffset.test(text)) return momentAt(Date.parse(text));
  const wallMs = wallClock(text, order);
  if (wallMs === undefined)
    return { problem: `${text} is no date and time; write it like ${examples[order]}` };
  const fits = [...new Set([-dayMs, dayMs].map((near) => offsetAt(wallMs + near, timeZone)))]
    .map((offsetMs) => wallMs - offsetMs)
    .filter((epochMs) => epochMs + offsetAt(epochMs, timeZone) === wallMs);
  const [epochMs, second] = fits;
  if (epochMs === undefined)
    return { problem: `${text} did not exist: the clocks went forward that night` };
  return second === undefined
    ? momentAt(epochMs)
    : { problem: `${text} came twice, as the clocks went back: add its offset, such as +01:00` };
}

const momentAt = (epochMs: number): LocalMoment =>
  Number.isFinite(epochMs)
    ? { at: new Date(epochMs).toISOString(), epochMs }
    : { problem: 'This is no date and time' };

/** The reading of the wall clock as if it were UTC; undefined when it is no date. */
function wallClock(text: string, order: DateOrder): number | undefined {
  // A year in front can be nothing else.
  const date = (parts[order].exec(text) ?? parts['year first'].exec(text))?.groups;
  if (date === undefined) return undefined;
  const rest = date.rest ?? '';
  const time = rest === '' ? { hour: '12', minute: '0' } : clock.exec(rest)?.groups;
  if (time === undefined) return undefined;
  const [year, month, day] = [Number(date.year), Number(date.month), Number(date.day)];
  const [hour, minute] = [Number(time.hour), Number(time.minute)];
  const wall = new Date(Date.UTC(year, month - 1, day, hour, minute));
  const isReal = wall.getUTCMonth() === month - 1 && wall.getUTCDate() === day && hour < 24;
  return isReal && minute < 60 ? wall.getTime() : undefined;
}

function offsetAt(epochMs: number, timeZone: string): number {
  const wholeMs = Math.floor(epochMs / 1000) * 1000;
  const shown = new Intl.DateTimeFormat('en-GB', {
    timeZone,
    hourCycle: 'h23',
    year: 'numeric',
    month: 'numeric',
    day: 'numeric',
    hour: 'numeric',
    minute: 'numeric',
    second: 'numeric',
  }).formatToParts(wholeMs);
  const part = (type: Intl.DateTimeFormatPartTypes) =>
    Number(shown.find((each) => each.type === type)?.value);
  const wall = Date.UTC(
    part('year'),
    part('month') - 1,
    part('day'),
    part('hour'),
    part('minute'),
    part('second'),
  );
  return wall - wholeMs;
}
