import { expect, test } from 'vitest';
import {
  clockError,
  clockLimitMs,
  isClockOff,
  timeRemarks,
  timeSpan,
} from '#shared/entryTiming.ts';

const minute = 60_000;
const hour = 60 * minute;
const happenedMs = Date.UTC(2026, 2, 2, 8);
const remarks = (times: { receivedMs: number; clockFastMs?: number; isFirstHand?: boolean }) =>
  timeRemarks({ happenedMs, clockFastMs: null, isFirstHand: true, ...times });

test('timeSpan(ms) speaks of minutes, hours, then days', () => {
  expect(timeSpan(4 * minute)).toBe('4 min');
  expect(timeSpan(3 * hour)).toBe('3 h');
  expect(timeSpan(2.5 * hour)).toBe('2 h 30 min');
  expect(timeSpan(20 * 24 * hour)).toBe('20 days');
});

test('clockError(fastMs) says which way', () => {
  expect(clockError(-3 * hour)).toBe('3 h behind');
  expect(clockError(5 * minute)).toBe('5 min ahead');
});

test('isClockOff(fastMs) is so beyond the limit only, and not where nothing was told', () => {
  expect([clockLimitMs, -clockLimitMs].map(isClockOff)).toEqual([false, false]);
  expect([clockLimitMs + 1, -clockLimitMs - 1].map(isClockOff)).toEqual([true, true]);
  expect(isClockOff(null)).toBe(false);
});

test('timeRemarks(entry) has nothing to say of an entry made at once by a right clock', () => {
  expect(remarks({ receivedMs: happenedMs + minute, clockFastMs: 900 })).toEqual([]);
  expect(remarks({ receivedMs: happenedMs + minute })).toEqual([]);
});

test('timeRemarks(entry) tells an entry written down long after', () => {
  expect(remarks({ receivedMs: happenedMs + 5 * hour })).toEqual(['entered 5 h after it happened']);
  expect(remarks({ receivedMs: happenedMs + 5 * hour, isFirstHand: false })).toEqual([]);
});

test('timeRemarks(entry) takes the error of the clock off before it calls an entry late', () => {
  const behind = { clockFastMs: -3 * hour };
  expect(remarks({ receivedMs: happenedMs + 3 * hour, ...behind })).toEqual([
    'device clock was 3 h behind',
  ]);
  expect(remarks({ receivedMs: happenedMs + 8 * hour, ...behind })).toEqual([
    'device clock was 3 h behind',
    'entered 5 h after it happened',
  ]);
  // Two hours ahead: what it calls now lies an hour before the entry came in three hours later.
  expect(remarks({ receivedMs: happenedMs + hour, clockFastMs: 2 * hour })).toEqual([
    'device clock was 2 h ahead',
    'entered 3 h after it happened',
  ]);
});
