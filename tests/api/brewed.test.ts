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
    titles: ['No yeast fit for Headland Bitter today', 'No yeast fit for Headland Bitter tomorrow'],
    days: ['2026-03-02', '2026-03-03'],
  });
  expect((await put(aFerment({ vesselId, strainId }))).status).toBe(201);
  expect(await said()).toEqual({
    titles: ['Pitch gyle 412', 'No yeast fit for Headland Bitter tomorrow'],
    days: ['2026-03-03'],
  });
});
