import { expect, test } from 'vitest';
import { rebuild } from '#db/safety/upkeep.ts';
import { dayAfter } from '#shared/localDay.ts';
import { aStrain, at } from '#tests/support/brewery.ts';
import { aPlanStory } from '#tests/support/planStory.ts';

const today = '2026-03-04';
const by = 'Ines';
const allotment = { kind: 'allotment', happenedAt: at(47), by } as const;

async function theErrors(write: Promise<unknown>) {
  const error = await write.catch(
    (thrown: { errors?: { path: string; message: string }[] }) => thrown,
  );
  return error !== null && typeof error === 'object' && 'errors' in error ? error.errors : [];
}

test('yeast is set aside only for a brew and of yeast that are in the log', async () => {
  const { write, brew, crop, strain } = await aPlanStory();
  const planned = await brew(dayAfter(today), 'Bitter');
  const errors = (facts: object) =>
    theErrors(write({ ...allotment, plannedBrewId: planned.id, ...facts }));
  expect(await errors({ fromLotId: strain.id })).toMatchObject([{ path: 'fromLotId' }]);
  expect(await errors({ fromFermentId: crop.id })).toMatchObject([{ path: 'fromFermentId' }]);
  expect(await errors({ fromBrewId: crop.id })).toMatchObject([{ path: 'fromBrewId' }]);
  expect(await errors({ plannedBrewId: crop.id, fromLotId: crop.id })).toMatchObject([
    { path: 'plannedBrewId' },
  ]);
});

test('yeast of another strain, or of a crop that comes too late, is not set aside', async () => {
  const { write, brew, crop } = await aPlanStory();
  const planned = await brew(dayAfter(today, 3), 'Bitter');
  const later = await brew(dayAfter(today, 3), 'Pale');
  const late = await theErrors(
    write({ ...allotment, plannedBrewId: planned.id, fromBrewId: later.id }),
  );
  expect(late).toMatchObject([
    { path: 'fromBrewId', message: expect.stringContaining('not brewed before') },
  ]);
  const other = await write(aStrain({ name: 'Fulmar', code: 'FM', happenedAt: at(47) }));
  const stout = await write({
    ...{ kind: 'plannedBrew', happenedAt: at(47), by, onDay: dayAfter(today), beer: 'Stout' },
    ...{ volumeL: 800, originalGravitySg: 1.05, strainId: other.id },
  });
  const foreign = await theErrors(
    write({ ...allotment, plannedBrewId: stout.id, fromLotId: crop.id }),
  );
  expect(foreign).toMatchObject([
    { path: 'fromLotId', message: expect.stringContaining('another strain') },
  ]);
});

test('an amount set aside is in the unit of its lot', async () => {
  const { write, brew, crop } = await aPlanStory();
  const planned = await brew(dayAfter(today), 'Bitter');
  const facts = { ...allotment, plannedBrewId: planned.id, fromLotId: crop.id };
  expect(await theErrors(write({ ...facts, amountL: 3 }))).toMatchObject([{ path: 'amountKg' }]);
  expect((await write({ ...facts, amountKg: 3 })).warnings).toEqual([]);
});

test('yeast on hold may be set aside, with a warning', async () => {
  const { write, brew, crop } = await aPlanStory();
  const planned = await brew(dayAfter(today), 'Bitter');
  await write({ kind: 'hold', happenedAt: at(47), by, lotId: crop.id, why: 'Odd smell' });
  const { warnings } = await write({ ...allotment, plannedBrewId: planned.id, fromLotId: crop.id });
  expect(warnings[0]).toContain('on hold');
});

test('a strain has one policy on fresh culture, which is corrected', async () => {
  const { write, strain } = await aPlanStory();
  const facts = { happenedAt: at(47), by, strainId: strain.id };
  const policy = { kind: 'freshCulturePolicy', ...facts, comesFrom: 'slope' } as const;
  const first = await write(policy);
  expect(await theErrors(write(policy))).toMatchObject([{ path: 'strainId' }]);
  const corrected = await write({ ...policy, supersedes: first.id, reason: 'Bought from now on' });
  expect(corrected.recordId).toBe(first.id);
});

test('a planned brew is struck out though yeast is set aside for it, and all is rebuilt alike', async () => {
  const { write, brew, crop, database } = await aPlanStory();
  const planned = await brew(dayAfter(today), 'Bitter');
  await write({ ...allotment, plannedBrewId: planned.id, fromLotId: crop.id });
  await write({ kind: 'void', happenedAt: at(47), by, supersedes: planned.id, reason: 'No malt' });
  const rows = async () => (await database.execute('SELECT * FROM allotment')).rows;
  const before = await rows();
  expect(before).toHaveLength(1);
  await rebuild(database);
  expect(await rows()).toEqual(before);
});
