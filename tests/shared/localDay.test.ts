import { expect, test } from 'vitest';
import { dayAfter, daysBetween, localDay, momentOn } from '#shared/localDay.ts';

// London put its clocks forward on 29 March 2026 at 01:00 UTC and back on 25 October at 01:00 UTC.
test.each([
  ['2026-03-28T23:59:00Z', '2026-03-28', '2026-03-29'],
  ['2026-03-29T23:30:00Z', '2026-03-30', '2026-03-31'],
  ['2026-10-24T23:30:00Z', '2026-10-25', '2026-10-26'],
  ['2026-10-25T23:30:00Z', '2026-10-25', '2026-10-26'],
])('localDay(zone) of %s is %s, and %s follows', (moment, today, tomorrow) => {
  const day = localDay('Europe/London')(Date.parse(moment));
  expect(day).toBe(today);
  expect(dayAfter(day)).toBe(tomorrow);
});

test('dayAfter(day, days) crosses months, years and leap days', () => {
  expect(dayAfter('2026-12-31')).toBe('2027-01-01');
  expect(dayAfter('2028-02-28')).toBe('2028-02-29');
  expect(dayAfter('2026-03-01', -1)).toBe('2026-02-28');
});

test('daysBetween(from, to) is the inverse of dayAfter', () => {
  expect(daysBetween('2026-03-27', '2026-03-31')).toBe(4);
  expect(daysBetween('2026-03-31', '2026-03-27')).toBe(-4);
});

test.each([
  ['2026-03-28', 12, '2026-03-28T12:00:00.000Z'],
  ['2026-03-29', 12, '2026-03-29T11:00:00.000Z'],
  ['2026-10-24', 7.5, '2026-10-24T06:30:00.000Z'],
  ['2026-10-25', 7.5, '2026-10-25T07:30:00.000Z'],
])('momentOn(%s, %s) in London is %s', (day, hour, moment) => {
  expect(new Date(momentOn(day, hour, 'Europe/London')).toISOString()).toBe(moment);
});
