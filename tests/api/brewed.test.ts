import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { aBrewery, aFerment, aStrain, at, nextId } from '#tests/support/brewery.ts';
import { anApi } from '#tests/support/server.ts';

test('a planned brew leaves Today and the worts to pitch once its gyle is collected', async () => {
  const { put, get, setHours } = await anApi();
  await put(aBrewery());
  const [strainId, vesselId] = [nextId(), nextId()];
  await put(aStrain(), strainId);
  await put({ kind: 'vessel', happenedAt: at(0), by: 'Ines', name: 'FV1' }, vesselId);
  const brew = (onDay: string, beer: string) =>
    put({
      ...{ kind: 'plannedBrew', happenedAt: at(0), by: 'Ines', onDay, beer, volumeL: 1000 },
      ...{ originalGravitySg: 1.04, strainId },
    });
  await brew('2026-03-02', 'Headland Bitter');
  await brew('2026-03-03', 'Headland Bitter');
  setHours(1);
  const said = async () => {
    const { actions } = await (await get('/api/today')).json();
    const { plannedBrews } = await (await get('/api/setup')).json();
    return {
      titles: actions
        .map(({ title }: { title: string }) => title)
        .filter((title: string) => /Bitter|gyle/.test(title)),
      days: plannedBrews.map(({ onDay }: { onDay: string }) => onDay),
    };
  };
  expect(await said()).toEqual({
    titles: [
      'No yeast fit for Headland Bitter today',
      'No yeast fit for Headland Bitter tomorrow',
      'Collect Headland Bitter',
    ],
    days: ['2026-03-02', '2026-03-03'],
  });
  expect((await put(aFerment({ vesselId, strainId }))).status).toBe(201);
  expect(await said()).toEqual({
    titles: ['Pitch gyle 412', 'No yeast fit for Headland Bitter tomorrow'],
    days: ['2026-03-03'],
  });
});

test('a brew collected late and under another name is one brew, and is back when that is undone', async () => {
  const { put, get, write, setHours } = await anApi();
  await write(0, aBrewery());
  const strain = await write(0, aStrain());
  const vessel = await write(0, { kind: 'vessel', name: 'FV1' });
  const brew = await write(0, {
    ...{ kind: 'plannedBrew', onDay: '2026-03-03', beer: 'Mild', volumeL: 1000 },
    ...{ originalGravitySg: 1.036, strainId: strain.id },
  });
  const days = (hours: number) => setHours(24 * hours);
  const said = async () => {
    const plan = await (await get('/api/plan')).json();
    const setup = await (await get('/api/setup')).json();
    const { actions } = await (await get('/api/today')).json();
    const ids = (brews: { id: string }[]) => brews.map(({ id }) => id);
    return {
      ahead: ids(plan.brews),
      notBrewed: ids(plan.notBrewed),
      offered: [ids(setup.plannedBrews), ids(setup.notBrewed)],
      asked: actions
        .map(({ id }: { id: string }) => id)
        .filter((id: string) => /^(collect|passed)/.test(id)),
    };
  };
  const open = { ahead: [], notBrewed: [brew.id], offered: [[], [brew.id]] };
  expect(await said()).toMatchObject({ ahead: [brew.id], offered: [[brew.id], []], asked: [] });
  days(1);
  expect((await said()).asked).toEqual([`collect-${brew.id}`]);
  days(6);
  expect(await said()).toEqual({ ...open, asked: [`passed-${brew.id}`] });

  const facts = { gyle: '430', beer: 'Festival Mild', vesselId: vessel.id, strainId: strain.id };
  const gyle = await write(6 * 24, {
    ...{ ...aFerment(facts), happenedAt: at(6 * 24), plannedBrewId: brew.id },
  });
  expect(await said()).toEqual({
    ...{ ahead: [gyle.id], notBrewed: [], offered: [[], []], asked: [] },
  });
  const { planned, record } = await (await get(`/api/ferments/${gyle.id}/standing`)).json();
  expect([planned.id, record.plannedBrewId]).toEqual([brew.id, brew.id]);
  const table = await (await get('/api/export/ferments.csv')).text();
  expect(parse(table, { bom: true, columns: true })).toMatchObject([
    { plannedBrew: 'Mild, 2026-03-03', plannedBrewId: brew.id },
  ]);

  const strike = (supersedes: string) =>
    put({ kind: 'void', happenedAt: at(6 * 24), by: 'Ines', supersedes, reason: 'Another brew' });
  const refused = await strike(brew.id);
  expect(refused.status).toBe(409);
  expect((await refused.json()).detail).toContain('Gyle 430 carries this brew out');
  expect((await strike(gyle.id)).status).toBe(201);
  expect(await said()).toEqual({ ...open, asked: [`passed-${brew.id}`] });
});
