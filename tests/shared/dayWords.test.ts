import { expect, test } from 'vitest';
import { dayWords } from '#shared/dayWords.ts';

// 6 July 2026 is a Monday by the calendar.
test('dayWords(day, today) leaves the year out while it is this one', () => {
  expect(dayWords('2026-07-06', '2026-11-29')).toBe('Mon 6 Jul');
  expect(dayWords('2026-01-01', '2026-12-31')).toBe('Thu 1 Jan');
});

test('dayWords(day, today) gives the year of another one, however near', () => {
  expect(dayWords('2027-01-01', '2026-12-31')).toBe('Fri 1 Jan 2027');
  expect(dayWords('2024-02-29', '2026-12-31')).toBe('Thu 29 Feb 2024');
});

test('dayWords(day) gives the year where nobody knows when it is read', () => {
  expect(dayWords('2026-07-06')).toBe('Mon 6 Jul 2026');
});

test('dayWords(day) leaves alone what is no date', () => {
  expect(dayWords('soon')).toBe('soon');
});
