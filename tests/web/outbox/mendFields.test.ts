import { expect, test } from 'vitest';
import type { Entry } from '#shared/entries/entry.ts';
import {
  fieldAt,
  furtherFields,
  mended,
  mendFields,
  mendStart,
} from '../../../web/outbox/mendFields.ts';

const lotId = '0195502c-0000-7000-8000-000000000001';
const envelope = { happenedAt: '2026-03-02T08:00:00Z', by: 'Ines' };
const pitch: Entry = {
  ...envelope,
  kind: 'pitch',
  lotId,
  fermentId: '0195502c-0000-7000-8000-000000000002',
  amountL: 11,
  expectedViableCells: 9e12,
  note: 'thick',
};
const count: Entry = {
  ...envelope,
  kind: 'count',
  lotId,
  basis: 'mL',
  chamber: 'improved Neubauer',
  squareAreaMm2: 0.04,
  depthMm: 0.1,
  pipettingSteps: 2,
  fillings: [{ squares: [38, 41, 35], dilutionFactor: 100, dilution: 1 }],
};

test('each fact has a field, ids and the cells expected have none', () => {
  expect(Object.keys(mendFields(pitch))).toEqual(['amountL', 'note']);
  expect(mendStart(pitch)).toEqual({ amountL: '11', note: 'thick' });
  expect(mendStart(count)['fillings.0.squares']).toBe('38, 41, 35');
});

test('what the log asked for besides gets a field, an id does not', () => {
  const errors = [
    { path: 'override', message: 'Lot is on hold: say why it is pitched all the same' },
    { path: 'lotId', message: 'There is no such lot in the log' },
  ];
  const problem = { status: 422, code: 'invalid', title: '', detail: '', errors };
  expect(Object.keys(mendFields(pitch, problem))).toEqual(['amountL', 'note', 'override']);
});

test('a refusal of one square belongs to the list of squares', () => {
  expect(fieldAt('fillings.0.squares.2', mendFields(count))).toBe('fillings.0.squares');
  expect(fieldAt('lotId', mendFields(count))).toBeUndefined();
});

test('mended(entry) changes the facts given, drops blanks, leaves the entry itself alone', () => {
  const parsed = mendFields(count)['fillings.0.squares']?.parse('38, 41 36', {});
  const squares = parsed !== undefined && 'value' in parsed ? parsed.value : [];
  expect(mended(count, { 'fillings.0.squares': squares })).toMatchObject({
    lotId,
    fillings: [{ squares: [38, 41, 36], dilutionFactor: 100 }],
  });
  expect(mended(pitch, { amountL: 11, note: undefined })).toEqual({
    ...envelope,
    kind: 'pitch',
    lotId,
    fermentId: '0195502c-0000-7000-8000-000000000002',
    amountL: 11,
    expectedViableCells: 9e12,
  });
  expect(count.fillings[0]?.squares).toEqual([38, 41, 35]);
});

test('another amount takes the cells expected of the old one with it', () => {
  expect(mended(pitch, { amountL: 12 })).not.toHaveProperty('expectedViableCells');
});

test('a word of a list is chosen, and what was left out can still be given', () => {
  const crop: Entry = {
    ...envelope,
    kind: 'crop',
    fermentId: '0195502c-0000-7000-8000-000000000002',
    cut: 'skim 1',
    amountKg: 9,
    look: undefined,
  };
  const asked = mendFields(crop);
  expect(asked.cut).toMatchObject({ control: 'select' });
  expect(asked.cut?.parse('skim 2', {})).toEqual({ value: 'skim 2' });
  const further = furtherFields(crop, asked);
  expect(Object.keys(further)).toEqual([
    'gravitySg',
    'code',
    'container',
    'place',
    'look',
    'smell',
    'note',
  ]);
  expect(mended(crop, { look: 'creamy' })).toMatchObject({ look: 'creamy', cut: 'skim 1' });
});

test('a gyle whose planned brew the log refused may be said to carry out none', () => {
  const gyle: Entry = {
    ...{ ...envelope, kind: 'ferment', gyle: '413', beer: 'Mild', volumeL: 1000 },
    ...{ originalGravitySg: 1.036, vesselId: lotId, strainId: lotId, plannedBrewId: lotId },
  };
  expect(mendFields(gyle)).not.toHaveProperty('plannedBrewId');
  const errors = [{ path: 'plannedBrewId', message: 'Gyle 412 carries this brew out already' }];
  const asked = mendFields(gyle, { status: 422, code: 'invalid', title: '', detail: '', errors });
  expect(fieldAt('plannedBrewId', asked)).toBe('plannedBrewId');
  expect(asked.plannedBrewId?.parse('', {})).toHaveProperty('problem');
  expect(asked.plannedBrewId?.parse('none', {})).toEqual({ value: null });
  expect(mended(gyle, { plannedBrewId: null })).toMatchObject({ plannedBrewId: null });
});
