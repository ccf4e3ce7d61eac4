import { expect, test } from 'vitest';
import { projectionDump, rebuild } from '#db/safety/upkeep.ts';
import type { EntryOf } from '#shared/entries/entry.ts';
import { aFerment, aStrain, at, nextId } from '#tests/support/brewery.ts';
import { aPlanStory } from '#tests/support/planStory.ts';
import { twoSites } from '../../sites/twoSites.ts';

const by = 'Ines';
const now = { happenedAt: at(49), by };

async function aStory() {
  const story = await aPlanStory();
  const { vessel, strain, write } = story;
  const planned = await story.brew('2026-03-04', 'Mild');
  const other = await write({ kind: 'vessel', ...now, name: 'FV2' });
  const gyle = (facts: Partial<EntryOf<'ferment'>> = {}): EntryOf<'ferment'> => ({
    ...aFerment({ vesselId: vessel.id, strainId: strain.id, gyle: '430', beer: 'Festival Mild' }),
    ...{ ...now, plannedBrewId: planned.id, ...facts },
  });
  const strike = (entryId: string) =>
    write({ kind: 'void', ...now, supersedes: entryId, reason: 'By mistake' });
  const named = async () =>
    (await story.database.execute('SELECT gyle, planned_brew_id FROM ferment ORDER BY gyle')).rows
      .filter((row) => row.planned_brew_id !== null)
      .map((row) => [row.gyle, row.planned_brew_id]);
  return { ...story, planned, fv2: other, gyle, strike, named };
}

test('a gyle names the planned brew it carries out, and a rebuild gives the same', async () => {
  const { database, write, gyle, planned, named, strike } = await aStory();
  const collected = await write(gyle());
  expect(collected.warnings).toEqual([]);
  expect(await named()).toEqual([['430', planned.id]]);
  const before = await projectionDump(database);
  await rebuild(database);
  expect(await projectionDump(database)).toEqual(before);
  await strike(collected.id);
  expect(await named()).toEqual([]);
});

test('a planned brew that is not there, or is carried out already, is refused by name', async () => {
  const { write, gyle, fv2, crop, brew, strike } = await aStory();
  const refusal = (path: string, message: string) => ({ errors: [{ path, message }] });
  await expect(write(gyle({ plannedBrewId: crop.id }))).rejects.toMatchObject(
    refusal('plannedBrewId', 'There is no such planned brew in the log'),
  );
  const struck = await brew('2026-03-05', 'Pale');
  await strike(struck.id);
  await expect(write(gyle({ plannedBrewId: struck.id }))).rejects.toMatchObject(
    refusal('plannedBrewId', 'There is no such planned brew in the log'),
  );
  const first = await write(gyle());
  const second = gyle({ gyle: '431', vesselId: fv2.id });
  await expect(write(second)).rejects.toMatchObject(
    refusal('plannedBrewId', 'Gyle 430 carries this brew out already: choose another, or none'),
  );
  // Corrected to carry out none, it leaves the brew to another.
  const free = { supersedes: first.id, reason: 'An extra brew' };
  await write({ ...gyle({ plannedBrewId: null }), ...free });
  await expect(write(second)).resolves.toMatchObject({ warnings: [] });
});

test('a correction of the gyle keeps its planned brew', async () => {
  const { write, gyle, planned, named } = await aStory();
  const { id } = await write(gyle());
  await write({ ...gyle({ gyle: '432' }), supersedes: id, reason: 'Misread' });
  expect(await named()).toEqual([['432', planned.id]]);
});

test('another strain than planned is told, and recorded', async () => {
  const { write, gyle } = await aStory();
  const { id } = await write(aStrain({ name: 'Fulmar', code: 'FM', happenedAt: at(48) }));
  expect((await write(gyle({ strainId: id }))).warnings).toEqual([
    'Mild was planned with another strain: check the strain.',
  ]);
});

test('a planned brew is not struck out while a gyle carries it out', async () => {
  const { write, gyle, planned, strike } = await aStory();
  const { id } = await write(gyle());
  await expect(strike(planned.id)).rejects.toThrow(
    'Gyle 430 carries this brew out: correct the gyle first, so that it names another or none.',
  );
  await strike(id);
  await expect(strike(planned.id)).resolves.toMatchObject({ kind: 'void' });
});

test('a gyle carries out a brew of its own site, and neither moves away from the other', async () => {
  const { write, strain, weir, weirFv1, fv2, weirFerment } = await twoSites();
  const pale = { beer: 'Weir Pale', volumeL: 900, originalGravitySg: 1.04, strainId: strain.id };
  const plan: EntryOf<'plannedBrew'> = {
    ...{ kind: 'plannedBrew', ...now, onDay: '2026-03-05', ...pale, siteId: weir.id },
  };
  const planned = await write(plan);
  const gyle = (vesselId: string) => ({
    ...aFerment({ vesselId, strainId: strain.id, gyle: '440', beer: 'Weir Pale' }),
    ...{ ...now, plannedBrewId: planned.id },
  });
  const elsewhere = {
    path: 'plannedBrewId',
    message: 'Weir Pale is planned at another site: change its plan first, or choose another',
  };
  await expect(write(gyle(fv2.id))).rejects.toMatchObject({ errors: [elsewhere] });
  await write({ kind: 'rack', ...now, fermentId: weirFerment.id, batches: [] });
  await write(gyle(weirFv1.id), nextId());
  const { siteId: _, ...home } = plan;
  await expect(write({ ...home, supersedes: planned.id, reason: 'Moved' })).rejects.toMatchObject({
    errors: [{ path: 'siteId', message: 'The site stays: gyle 440 was collected for it there' }],
  });
});
