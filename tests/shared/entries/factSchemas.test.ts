import { expect, test } from 'vitest';
import { factShape, optionalFacts } from '#shared/entries/factSchemas.ts';
import { cuts } from '#shared/words.ts';

test('factShape(kind, path) tells a word of a list from a number, a yes and a text', () => {
  expect(factShape('crop', 'cut')).toEqual({ choices: cuts });
  expect(factShape('crop', 'note')).toBe('text');
  expect(factShape('count', 'fillings.0.dilutionFactor')).toBe('number');
  expect(factShape('count', 'pipettingSteps')).toBe('number');
  expect(factShape('medium', 'retired')).toBe('yes or no');
  expect(factShape('plannedBrew', 'onDay')).toBe('text');
});

test('factShape(kind, path) knows no list, no group and no name that is not there', () => {
  expect(factShape('count', 'fillings.0.squares')).toBeUndefined();
  expect(factShape('reading', 'count')).toBeUndefined();
  expect(factShape('crop', 'squares')).toBeUndefined();
});

test('optionalFacts(kind) leaves out ids, the envelope and what must be given', () => {
  expect(optionalFacts('stain')).toEqual(['note']);
  expect(optionalFacts('plannedBrew')).toEqual(['note']);
  expect(optionalFacts('crop')).toEqual(
    expect.arrayContaining(['gravitySg', 'container', 'place', 'look', 'smell', 'note']),
  );
});
