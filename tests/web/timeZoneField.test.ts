import { expect, test } from 'vitest';
import { timeZone, zoneOf, zonesMeant } from '../../web/components/form/timeZoneField.ts';

const zones = ['America/Indiana/Knox', 'America/New_York', 'Asia/Macau', 'Europe/London'];

test.each([
  ['Europe/London', 'Europe/London'],
  ['europe/london', 'Europe/London'],
  ['london', 'Europe/London'],
  ['new york', 'America/New_York'],
  ['Knox', 'America/Indiana/Knox'],
  ['UTC', 'UTC'],
])('%s is taken as %s', (typed, zone) => {
  expect(zoneOf(typed, zones)).toBe(zone);
});

test('a city that two areas have is not guessed', () => {
  expect(zoneOf('Lund', ['America/Lund', 'Europe/Lund'])).toBeUndefined();
  expect(zonesMeant('Lund', ['America/Lund', 'Europe/Lund'])).toEqual([
    'America/Lund',
    'Europe/Lund',
  ]);
});

test('the beginning of a city offers it; a whole name offers nothing', () => {
  expect(zonesMeant('lon', zones)).toEqual(['Europe/London']);
  expect(zonesMeant('lo', zones)).toEqual([]);
  expect(zonesMeant('Europe/London', zones)).toEqual([]);
});

test('what is no zone is told by what was typed and what is expected; blank is left out', () => {
  const field = timeZone({ label: 'Time zone', hint: '' });
  expect(field.suggestions).toContain('Europe/London');
  expect(field.parse('Londinium', {})).toEqual({
    problem: '“Londinium” is no time zone in the list: choose one, such as Europe/London',
  });
  expect(field.parse(' ', {})).toEqual({ value: undefined });
});
