import { expect, test } from 'vitest';
import { entryChanges } from '#shared/entryChanges.ts';
import { at, nextId } from '#tests/support/brewery.ts';

const lotId = nextId();
const discard = {
  ...({ kind: 'discard', happenedAt: at(1), by: 'Tom', lotId, amountKg: 2, why: 'Old' } as const),
};

test('entryChanges names what is new, what is gone and what is different, and nothing else', () => {
  const { amountKg, ...rest } = discard;
  const corrected = {
    ...{ ...rest, by: 'Ines', amountL: 2, why: 'Spilt' },
    ...{ supersedes: nextId(), reason: 'Measured, not weighed' },
  };
  expect(entryChanges(discard, corrected)).toEqual([
    { field: 'amountKg', before: amountKg, after: undefined },
    { field: 'why', before: 'Old', after: 'Spilt' },
    { field: 'amountL', before: undefined, after: 2 },
  ]);
});

test('entryChanges of lists compares what they hold', () => {
  const rack = {
    ...({ kind: 'rack', happenedAt: at(1), by: 'Tom', fermentId: nextId() } as const),
    batches: ['412/1'],
  };
  expect(entryChanges(rack, { ...rack, batches: ['412/1'] })).toEqual([]);
  expect(entryChanges(rack, { ...rack, batches: ['412/2'] })).toHaveLength(1);
});

test('entryChanges leaves out a figure that differs only by the rounding of a sum worked out again', () => {
  const pitch = {
    ...({ kind: 'pitch', happenedAt: at(1), by: 'Tom', fermentId: nextId(), lotId } as const),
    ...{ amountL: 11.2, expectedHighCells: 12_765_232_014_161.838 },
  };
  const again = { ...pitch, expectedHighCells: 12_765_232_014_161.836 };
  expect(entryChanges(pitch, again)).toEqual([]);
  expect(entryChanges(pitch, { ...again, amountL: 11.21 })).toHaveLength(1);
});
