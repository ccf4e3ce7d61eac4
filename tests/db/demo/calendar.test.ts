import { expect, test } from 'vitest';
import { calendarAround } from '#db/demo/calendar.ts';
import { hourMs } from '#shared/durations.ts';

const iso = (ms: number) => new Date(ms).toISOString();

test('at(day, hour) is the wall clock, in winter and in summer', () => {
  const winter = calendarAround(Date.UTC(2026, 0, 15, 12));
  expect(iso(winter.at(-1, 7.5))).toBe('2026-01-14T07:30:00.000Z');
  const summer = calendarAround(Date.UTC(2026, 6, 15, 12));
  expect(iso(summer.at(-1, 7.5))).toBe('2026-07-14T06:30:00.000Z');
});

test('today is the day of the brewery, not that of UTC', () => {
  const calendar = calendarAround(Date.UTC(2026, 6, 15, 23, 30));
  expect(calendar.date(0)).toBe('2026-07-16');
  expect(calendar.date(1)).toBe('2026-07-17');
});

// The clocks of the United Kingdom change at 01:00 UTC on the last Sunday of March and of October
// (Summer Time Act 1972, as amended).
test.each([
  ['2026-03-29T12:00:00Z', ['2026-03-28T08:00:00.000Z', '2026-03-29T07:00:00.000Z']],
  ['2026-10-25T12:00:00Z', ['2026-10-24T07:00:00.000Z', '2026-10-25T08:00:00.000Z']],
])('at(day, hour) holds on both sides of the change of %s', (now, expected) => {
  const calendar = calendarAround(Date.parse(now));
  expect([calendar.at(-1, 8), calendar.at(0, 8)].map(iso)).toEqual(expected);
});

test('ago(hours) moves work out of the night, and leaves that of the day', () => {
  const calendar = calendarAround(Date.UTC(2026, 0, 15, 12));
  expect(iso(calendar.ago(3))).toBe('2026-01-15T09:00:00.000Z');
  expect(iso(calendar.ago(11))).toBe('2026-01-14T21:00:00.000Z');
  expect(iso(calendar.ago(15.5))).toBe('2026-01-14T20:30:00.000Z');
});

test.each(['2026-01-15T12:00:00Z', '2026-03-29T12:00:00Z', '2026-10-25T12:00:00Z'])(
  'ago(hours) keeps the order of things, round %s',
  (now) => {
    const calendar = calendarAround(Date.parse(now));
    const moments = Array.from({ length: 480 }, (_, index) => calendar.ago(index / 10));
    moments.forEach((ms, index) => {
      expect(ms).toBeLessThanOrEqual(calendar.nowMs - (index / 10) * hourMs);
      expect(ms).toBeGreaterThan(moments[index + 1] ?? 0);
    });
  },
);
