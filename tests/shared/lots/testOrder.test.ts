import { expect, test } from 'vitest';
import { testOrder } from '#shared/lots/testOrder.ts';

type Lot = Parameters<typeof testOrder>[0][number];
const lot = (id: string, ageHours: number, verdict: 'fit' | 'test first' = 'test first') =>
  ({ id, ageHours, strain: { id: 'tern' }, verdict: { verdict } }) as Lot;
const brew = (onDay: string, ...sources: string[]) => ({
  ...{ id: onDay, beer: 'Bitter', onDay, strainId: 'tern' },
  parts: sources.map((sourceId) => ({ sourceId })),
});

test('lots to test come in the order in which brews need them', () => {
  const lots = [lot('later', 5), lot('fit', 1, 'fit'), lot('sooner', 90)];
  const brews = [brew('2026-03-09', 'later', 'sooner'), brew('2026-03-05', 'sooner', 'fit')];
  const { first, rest } = testOrder(lots, brews);
  expect(first.map(({ lot: { id }, brew: of }) => [id, of?.onDay])).toEqual([
    ['sooner', '2026-03-05'],
    ['later', '2026-03-09'],
  ]);
  expect(rest.map(({ id }) => id)).toEqual(['fit']);
});

test('lots that feed no brew come last, the youngest first', () => {
  const lots = [lot('old', 90), lot('young', 5), lot('fed', 200)];
  const { first } = testOrder(lots, [brew('2026-03-05', 'fed')]);
  expect(first.map(({ lot: { id }, brew: of }) => [id, of?.onDay ?? null])).toEqual([
    ['fed', '2026-03-05'],
    ['young', null],
    ['old', null],
  ]);
});
