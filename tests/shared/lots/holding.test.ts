import { expect, test } from 'vitest';
import { hourMs } from '#shared/durations.ts';
import { type HoldEvidence, heldBy, holdingsOf } from '#shared/lots/holding.ts';
import { at, storyStartMs } from '#tests/support/brewery.ts';

const by = 'Jory';
const plate = {
  ...{ id: 'plate', happenedAt: at(1), by, medium: 'LWYM', looksFor: 'wild yeast' },
  ...{ dueAt: at(97), cellsPlated: 1e6 },
};
const grew = { id: 'result', happenedAt: at(97), by, checkId: 'plate', outcome: 'found' } as const;
const nothing: HoldEvidence = { holds: [], releases: [], checks: [], results: [] };

test('a routine plate not yet read warns, unless the strain says that it holds', () => {
  const evidence = { ...nothing, checks: [plate] };
  expect(holdingsOf(evidence, {})).toMatchObject([{ cause: 'result pending', holds: false }]);
  expect(heldBy(holdingsOf(evidence, {}))).toBe(undefined);
  expect(heldBy(holdingsOf(evidence, { pendingRoutineCheck: 'hold' }))?.why).toBe(
    'LWYM: not yet read',
  );
});

test('a plate taken on suspicion holds whatever the strain says', () => {
  const evidence = { ...nothing, checks: [{ ...plate, purpose: 'suspicion' as const }] };
  expect(heldBy(holdingsOf(evidence, { pendingRoutineCheck: 'warn' }))?.cause).toBe(
    'result pending',
  );
});

// Garwood 1936: of 46 seen, 33.68 to 61.36 at 95 %.
test('a plate that grew holds, with the wild yeast in a million cells and its limits', () => {
  const evidence = { ...nothing, checks: [plate], results: [{ ...grew, colonies: 46 }] };
  const [holding] = holdingsOf(evidence, {});
  expect(holding).toMatchObject({ cause: 'found', holds: true });
  expect(holding?.why).toBe('LWYM: something grew (46 colonies, 46 per million (33.7 to 61.4))');
  expect(holding?.wildPerMillion?.low).toBeCloseTo(33.68, 2);
  expect(holding?.wildPerMillion?.high).toBeCloseTo(61.36, 2);
});

test('a plate read clear holds no more, and bacteria are no wild yeast', () => {
  const clear = { ...grew, outcome: 'clear' as const };
  expect(holdingsOf({ ...nothing, checks: [plate], results: [clear] }, {})).toEqual([]);
  const bacteria = { ...plate, looksFor: 'bacteria' };
  const evidence = { ...nothing, checks: [bacteria], results: [{ ...grew, colonies: 3 }] };
  expect(holdingsOf(evidence, {})[0]?.wildPerMillion).toBe(null);
});

test('holdingsOf(…, atMs) tells how it stood then', () => {
  const hold = { id: 'hold', happenedAt: at(10), by, why: 'Smell', liftedAt: at(30) };
  const evidence = { ...nothing, holds: [hold], releases: [{ happenedAt: at(20) }] };
  const heldAt = (hours: number) =>
    heldBy(holdingsOf(evidence, { atMs: storyStartMs + hours * hourMs }))?.why;
  expect([9, 10, 19, 20, 31].map(heldAt)).toEqual([
    undefined,
    'Smell',
    'Smell',
    undefined,
    undefined,
  ]);
});

test('a plate that was read later had not been read then', () => {
  const suspected = { ...plate, purpose: 'suspicion' as const };
  const clear = { ...grew, outcome: 'clear' as const };
  const evidence = { ...nothing, checks: [suspected], results: [clear] };
  const heldAt = (hours: number) =>
    heldBy(holdingsOf(evidence, { atMs: storyStartMs + hours * hourMs }))?.cause;
  expect([50, 97].map(heldAt)).toEqual(['result pending', undefined]);
});

test('the gravest cause comes first', () => {
  const evidence = {
    ...nothing,
    holds: [{ id: 'hold', happenedAt: at(1), by, why: 'Smell' }],
    checks: [plate, { ...plate, id: 'other' }],
    results: [{ ...grew, outcome: 'discard' as const }],
  };
  expect(holdingsOf(evidence, {}).map(({ cause }) => cause)).toEqual([
    'discard',
    'held by hand',
    'result pending',
  ]);
});
