import { expect, test } from 'vitest';
import { readLocalMoment } from '#shared/localTime.ts';

const inLondon = (typed: string, order: 'day first' | 'year first' | 'month first' = 'day first') =>
  readLocalMoment(typed, order, 'Europe/London');

// The United Kingdom is on UTC in winter and an hour ahead from the last Sunday of March to the last
// of October, changing at 01:00 UTC (Summer Time Act 1972 as amended; IANA time zone database).
test.each([
  ['02/03/2026 09:30', 'day first', '2026-03-02T09:30:00.000Z'],
  ['02.06.2026 09.30', 'day first', '2026-06-02T08:30:00.000Z'],
  ['06/02/2026 09:30', 'month first', '2026-06-02T08:30:00.000Z'],
  ['2026-06-02T09:30', 'year first', '2026-06-02T08:30:00.000Z'],
  ['2026-06-02', 'year first', '2026-06-02T11:00:00.000Z'],
  // A year in front can be nothing else, whatever order the others of a file have.
  ['2026-06-02', 'day first', '2026-06-02T11:00:00.000Z'],
  ['2026-06-02T09:30:00+05:00', 'day first', '2026-06-02T04:30:00.000Z'],
] as const)('%s, %s, is %s', (typed, order, at) => {
  expect(inLondon(typed, order)).toMatchObject({ at });
});

test('a time the clocks skipped, and one that came twice, are questioned', () => {
  expect(inLondon('29/03/2026 01:30')).toEqual({
    problem: '29/03/2026 01:30 did not exist: the clocks went forward that night',
  });
  expect(inLondon('25/10/2026 01:30')).toEqual({
    problem: '25/10/2026 01:30 came twice, as the clocks went back: add its offset, such as +01:00',
  });
});

test.each(['31/02/2026', '12/13/2026', '01/03/2026 24:00', '01/03/2026 9', 'soon', ''])(
  '%j is no day-first date',
  (typed) => {
    expect(inLondon(typed)).toHaveProperty('problem');
  },
);
