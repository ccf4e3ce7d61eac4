import { expect, test } from 'vitest';
import type { TodayAction } from '#shared/views/today.ts';
import { at } from '../support/brewery.ts';
import { anApi } from '../support/server.ts';
import { theirApi } from './twoSites.ts';

async function asInes() {
  const story = await theirApi();
  const ines = await story.signIn('ines', ['head'], []);
  const get = async (path: string) => {
    const { status, body } = await story.send('GET', path, ines);
    expect(status, path).toBe(200);
    return body;
  };
  return { ...story, get };
}
const ids = (items: readonly { id: string }[]) => items.map(({ id }) => id).sort();

test('all sites together are lots, ferments and FVs of each, and each says where it is', async () => {
  const { get, fresh, crop, sent, ferment, weirFerment, fv1, fv2, weirFv1, weir } = await asInes();
  const lots = await get('/api/lots/in-store?site=all');
  expect(ids(lots.items)).toEqual([fresh.id, crop.id, sent.id].sort());
  const placeOf = new Map(
    lots.items.map((lot: { id: string; siteId: string }) => [lot.id, lot.siteId]),
  );
  expect([placeOf.get(crop.id), placeOf.get(sent.id)]).toEqual([null, weir.id]);
  const ferments = await get('/api/ferments/current?site=all');
  expect(ids(ferments.items)).toEqual([ferment.id, weirFerment.id].sort());
  const setup = await get('/api/setup?site=all');
  expect(ids(setup.vessels)).toEqual([fv1.id, fv2.id, weirFv1.id].sort());
  expect(setup.siteId).toBeNull();
});

test('what to do at all sites is what to do at each, under its name, the most urgent first', async () => {
  const { get, write, strain, home, weir } = await asInes();
  const facts = { happenedAt: at(50), by: 'Ines', volumeL: 900, originalGravitySg: 1.04 };
  const brew = { kind: 'plannedBrew', ...facts, strainId: strain.id, onDay: '2026-03-06' } as const;
  await write({ ...brew, beer: 'Quay Mild' });
  await write({ ...brew, beer: 'Weir Stout', siteId: weir.id });
  const of = async (site: string): Promise<TodayAction[]> =>
    (await get(`/api/today?site=${site}`)).actions;
  const all = await of('all');
  const titles = (actions: readonly TodayAction[]) => actions.map(({ title }) => title).sort();
  expect(titles(all.filter(({ site }) => site === 'Quay'))).toEqual(titles(await of(home.id)));
  expect(titles(all.filter(({ site }) => site === 'Weir'))).toEqual(titles(await of(weir.id)));
  expect(all.length).toBe((await of(home.id)).length + (await of(weir.id)).length);
  expect(new Set(all.map(({ id }) => id)).size).toBe(all.length);
  const ranks = all.map(({ urgency }) => ['now', 'today', 'soon'].indexOf(urgency));
  expect(ranks).toEqual(ranks.toSorted());
});

test('a plan is of one site: yeast of one does not feed the brews of another', async () => {
  const { signIn, send } = await theirApi();
  const ines = await signIn('ines', ['head'], []);
  const { status, body } = await send('GET', '/api/plan?site=all', ines);
  expect([status, body.errors[0].path]).toEqual([422, 'site']);
});

test('in a brewery with one site, all sites are the one', async () => {
  const { get } = await anApi();
  for (const path of ['today', 'setup', 'lots/in-store', 'ferments/current', 'lines'])
    expect(await (await get(`/api/${path}?site=all`)).text()).toBe(
      await (await get(`/api/${path}`)).text(),
    );
});
