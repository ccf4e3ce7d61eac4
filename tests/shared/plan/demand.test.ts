import { expect, test } from 'vitest';
import type { EntryOf } from '#shared/entries/entry.ts';
import { brewedAs, unbrewed } from '#shared/plan/demand.ts';
import { aFerment } from '#tests/support/brewery.ts';

const kept = (id: string) => ({ id, entryId: id, seq: 1, receivedAt: '', corrected: false });
const brew = (id: string, onDay: string, beer = 'Mild') => ({
  ...({ kind: 'plannedBrew', happenedAt: '2026-02-20T09:00:00Z', by: 'Ines' } as const),
  ...{ onDay, beer, volumeL: 1000, originalGravitySg: 1.036, strainId: 'tern' },
  ...kept(id),
});
const gyle = (id: string, day: string, facts: Partial<EntryOf<'ferment'>> = {}) => ({
  id,
  record: {
    ...aFerment({ vesselId: 'fv1', strainId: 'tern', beer: 'Mild' }),
    ...{ happenedAt: `${day}T10:00:00Z`, ...facts, ...kept(id) },
  },
});
const dayOf = (ms: number) => new Date(ms).toISOString().slice(0, 10);
const became = (brews: ReturnType<typeof brew>[], gyles: ReturnType<typeof gyle>[]) =>
  [...brewedAs(brews, gyles, dayOf)].map(([id, { id: gyleId }]) => `${id} became ${gyleId}`);

test('brewedAs(brews, gyles) goes by the brew a gyle names, whatever its day and beer', () => {
  const brews = [brew('early', '2026-03-02'), brew('late', '2026-03-04')];
  const gyles = [
    gyle('412', '2026-03-04', { beer: 'Festival Mild', plannedBrewId: 'early' }),
    gyle('413', '2026-03-09', { strainId: 'fulmar', plannedBrewId: 'late' }),
  ];
  expect(became(brews, gyles)).toEqual(['early became 412', 'late became 413']);
});

test('brewedAs(brews, gyles) goes by beer and day for a gyle that says nothing, and by no other', () => {
  const brews = [brew('one', '2026-03-02'), brew('next', '2026-03-03')];
  expect(became(brews, [gyle('412', '2026-03-02', { beer: ' mild' })])).toEqual(['one became 412']);
  expect(became(brews, [gyle('412', '2026-03-05')])).toEqual([]);
  expect(became(brews, [gyle('412', '2026-03-02', { plannedBrewId: null })])).toEqual([]);
  expect(became(brews, [gyle('412', '2026-03-02', { plannedBrewId: 'next' })])).toEqual([
    'next became 412',
  ]);
});

test('unbrewed(brews, gyles) parts what is to come from what was not brewed on its day', () => {
  const brews = [brew('gone', '2026-03-01'), brew('today', '2026-03-02'), brew('b', '2026-03-03')];
  const { toCome, passed } = unbrewed(brews, [gyle('412', '2026-03-02', { plannedBrewId: 'b' })], {
    fromDay: '2026-03-02',
    dayOf,
  });
  expect([toCome, passed].map((some) => some.map(({ id }) => id))).toEqual([['today'], ['gone']]);
});
