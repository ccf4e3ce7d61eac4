import { expect, test } from 'vitest';
import type { ImportUnits } from '#shared/imports/cells.ts';
import { columnOfFact, headingUnit, likelyMapping } from '#shared/imports/headings.ts';

const chosen: ImportUnits = {
  volume: 'L',
  amount: 'L',
  gravity: 'sg',
  temperature: '°C',
  dateOrder: 'day first',
  timeZone: 'Europe/London',
};

test('likelyMapping(kind, headings) knows a heading with a unit in or behind it', () => {
  const headings = ['Gyle', 'Length (hL)', 'OG, °P', 'Set temp in °F', 'tank', 'Colour'];
  expect(likelyMapping('ferments', headings)).toEqual({
    gyle: 'Gyle',
    vessel: 'tank',
    volume: 'Length (hL)',
    og: 'OG, °P',
    setTemp: 'Set temp in °F',
  });
  expect(likelyMapping('ferments', ['volume_collected_hl'])).toEqual({
    volume: 'volume_collected_hl',
  });
});

test('likelyMapping(kind, headings) takes the plain heading before one with a unit', () => {
  expect(likelyMapping('readings', ['Temp (°C)', 'Temp']).temp).toBe('Temp');
  expect(likelyMapping('readings', ['SG', 'pH'])).toEqual({ gravity: 'SG', ph: 'pH' });
});

test('headingUnit(key, heading, chosen) gives what the heading names, where it is another', () => {
  expect(headingUnit('volume', 'Length (hL)', chosen)).toEqual({ volume: 'hL' });
  expect(headingUnit('amount', 'Amount kg', chosen)).toEqual({ amount: 'kg' });
  expect(headingUnit('og', 'OG [Plato]', chosen)).toEqual({ gravity: 'plato' });
  expect(headingUnit('temp', 'Temp °F', chosen)).toEqual({ temperature: '°F' });
  expect(headingUnit('volume', 'Volume (L)', chosen)).toEqual({});
  expect(headingUnit('volume', 'Volume (racked)', chosen)).toEqual({});
  expect(headingUnit('beer', 'Beer (hL)', chosen)).toEqual({});
});

test('headingUnit(key, heading, chosen) asks where it may be two', () => {
  expect(headingUnit('volume', 'Volume (bbl)', chosen)).toHaveProperty('problem');
  expect(headingUnit('volume', 'Volume (bbl)', { ...chosen, volume: 'US bbl' })).toEqual({});
});

test('columnOfFact(kind, path) names the column a refused fact came from', () => {
  expect(columnOfFact('ferments', 'vesselId')).toBe('vessel');
  expect(columnOfFact('ferments', 'happenedAt')).toBe('collectedAt');
  expect(columnOfFact('lots', 'amountKg')).toBe('amount');
  expect(columnOfFact('counts', 'fillings.0.squares.2')).toBe('squares');
  expect(columnOfFact('readings', 'vessel')).toBe('vessel');
});
