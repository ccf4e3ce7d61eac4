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
