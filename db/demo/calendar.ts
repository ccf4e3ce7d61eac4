import { dayMs, hourMs, minuteMs } from '#shared/durations.ts';

export const demoTimeZone = 'Europe/London';

/** Nobody works from here [local hour] to there: what would fall between is done the evening before. */
const lastHour = 20.5;
const firstHour = 5.5;
const tidyingMs = hourMs;

export type Calendar = {
  nowMs: number;
  /** A wall-clock hour of a day counted from today: at(-1, 7.5) is half past seven yesterday. */
  at: (day: number, hour: number) => number;
  /** The date [YYYY-MM-DD] of a day counted from today. */
  date: (day: number) => string;
  /** A moment so many hours ago, never in the night: up to eight hours earlier then. */
  ago: (hours: number) => number;
  /** Days from today of a moment, on the brewery's own clock. */
  dayOf: (ms: number) => number;
};

/** The brewery's wall clock round a moment, through changes to and from summer time. */
export function calendarAround(nowMs: number): Calendar {
  const todayMs = Math.floor(wallMs(nowMs) / dayMs) * dayMs;
  const at = (day: number, hour: number) =>
    fromWall(todayMs + day * dayMs + Math.round(hour * 60) * minuteMs);
  const dayOf = (ms: number) => Math.floor((wallMs(ms) - todayMs) / dayMs);
  const ago = (hours: number) => {
    const ms = wholeSecond(nowMs - hours * hourMs);
    const evening = dayOf(ms - firstHour * hourMs);
    const fromMs = at(evening, lastHour);
    const toMs = at(evening + 1, firstHour);
    if (ms < fromMs || ms >= toMs) return ms;
    return wholeSecond(fromMs + ((ms - fromMs) / (toMs - fromMs)) * tidyingMs);
  };
  const date = (day: number) => new Date(todayMs + day * dayMs).toISOString().slice(0, 10);
  return { nowMs, at, date, ago, dayOf };
}

const wholeSecond = (ms: number) => Math.floor(ms / 1000) * 1000;

const wall = new Intl.DateTimeFormat('sv-SE', {
  timeZone: demoTimeZone,
  dateStyle: 'short',
  timeStyle: 'medium',
});

/** The wall clock's reading as if it were UTC. */
const wallMs = (ms: number) => Date.parse(`${wall.format(ms).replace(' ', 'T')}Z`);

// The second step settles the hours beside a change of the clock.
function fromWall(readingMs: number): number {
  const near = readingMs - (wallMs(readingMs) - readingMs);
  return near + (readingMs - wallMs(near));
}
