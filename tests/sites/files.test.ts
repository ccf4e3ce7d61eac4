import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { anApi } from '../support/server.ts';
import { theirApi } from './twoSites.ts';

const read = (csv: string): Record<string, string>[] => parse(csv, { bom: true, columns: true });

async function files() {
  const story = await theirApi();
  const ines = await story.signIn('ines', ['head'], []);
  const csv = async (path: string) => {
    const answer = await story.app.request(path, { headers: { cookie: ines.cookie } });
    expect(answer.status).toBe(200);
    return read(await answer.text());
  };
  const get = async (path: string) => (await story.send('GET', path, ines)).body;
  return { ...story, csv, get };
}

test('each table taken out names the site of every record that is kept at one', async () => {
  const { csv, crop, sent, fv1, weirFv1, ferment, weirFerment, pitch } = await files();
  const sitesIn = async (noun: string) =>
    new Map((await csv(`/api/export/${noun}.csv`)).map(({ id, site }) => [id, site]));
  const lots = await sitesIn('lots');
  expect([lots.get(crop.id), lots.get(sent.id)]).toEqual(['Quay', 'Weir']);
  const vessels = await sitesIn('vessels');
  expect([vessels.get(fv1.id), vessels.get(weirFv1.id)]).toEqual(['Quay', 'Weir']);
  const ferments = await sitesIn('ferments');
  expect([ferments.get(ferment.id), ferments.get(weirFerment.id)]).toEqual(['Quay', 'Weir']);
  expect((await sitesIn('pitches')).get(pitch.id)).toBe('Quay');
  const [strain] = await csv('/api/export/strains.csv');
  expect(Object.keys(strain ?? {})).not.toContain('site');
});

test('the trace of what was sent tells the site of each record, on the page and as a file', async () => {
  const { csv, get, fresh, crop, sent, weir } = await files();
  const { nodes } = await get(`/api/trace?of=${fresh.id}`);
  const places = new Map(
    nodes.map(({ id, siteId }: { id: string; siteId: string }) => [id, siteId]),
  );
  expect([places.get(crop.id), places.get(sent.id)]).toEqual([null, weir.id]);
  const rows = await csv(`/api/trace.csv?of=${fresh.id}`);
  const named = new Map(rows.map(({ id, site }) => [id, site]));
  expect([named.get(crop.id), named.get(sent.id)]).toEqual(['Quay', 'Weir']);
});

test('a search for a gyle that two sites have tells which is where', async () => {
  const { get, ferment, weirFerment, weir } = await files();
  const { items } = await get('/api/trace/search?q=412');
  const places = new Map(
    items.map(({ id, siteId }: { id: string; siteId: string }) => [id, siteId]),
  );
  expect([places.get(ferment.id), places.get(weirFerment.id)]).toEqual([null, weir.id]);
});

test('in a brewery with one site no file speaks of sites', async () => {
  const { get } = await anApi();
  for (const noun of ['lots', 'vessels', 'ferments', 'planned-brews'])
    expect((await (await get(`/api/export/${noun}.csv`)).text()).toLowerCase()).not.toContain(
      'site',
    );
});
