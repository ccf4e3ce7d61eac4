import { expect, test } from 'vitest';
import { at, nextId } from '../support/brewery.ts';
import { theirApi } from './twoSites.ts';

const units = {
  volume: 'L',
  amount: 'L',
  gravity: 'sg',
  temperature: '°C',
  dateOrder: 'year first',
  timeZone: 'UTC',
} as const;
const sheet = (kind: string, csv: string) => ({ kind, csv, units });
const oldGyle = {
  sheets: [
    sheet(
      'ferments',
      'Gyle,Beer,FV,Yeast,Collected,Volume,OG,Racked\n301,Old Pale,FV5,TN,2026-02-02 11:00,900,1040,2026-02-06 09:00',
    ),
    sheet('lots', 'Code,Strain,Taken,Amount\nOLD-1,TN,2026-02-01 09:00,20'),
    sheet('pitches', 'Gyle,Lot,Amount,Pitched\n301,OLD-1,11,2026-02-02 12:00'),
  ],
};

async function asInes() {
  const story = await theirApi();
  const ines = await story.signIn('ines', ['head'], []);
  return {
    ...story,
    ask: (method: string, path: string, body?: unknown) => story.send(method, path, ines, body),
  };
}

test('old records belong to the site chosen, and name its FVs', async () => {
  const { ask, write, weir, home } = await asInes();
  const fv5 = { kind: 'vessel', happenedAt: at(48), by: 'Ines', name: 'FV5' } as const;
  const vessels = [
    { site: weir, old: 'OLD-W', vessel: await write({ ...fv5, siteId: weir.id }) },
    { site: home, old: 'OLD-Q', vessel: await write(fv5) },
  ];
  for (const { site, old, vessel } of vessels) {
    const gone = await ask('PUT', `/api/imports/${nextId()}`, {
      siteId: site.id,
      sheets: oldGyle.sheets.map(({ csv, ...rest }) => ({
        ...rest,
        csv: csv.replaceAll('OLD-1', old),
      })),
    });
    expect([gone.status, gone.body.errors]).toEqual([201, undefined]);
    const { body } = await ask('GET', `/api/ferments?site=${site.id}`);
    const found = body.items.find(({ gyle }: { gyle: string }) => gyle === '301');
    expect(found.vesselId).toBe(vessel.id);
    const lots = await ask('GET', `/api/lots?site=${site.id}`);
    const codes = lots.body.items.map(({ code }: { code: string }) => code);
    expect(codes).toContain(old);
  }
});

test('with two sites an import that names none, or one not in the log, is refused', async () => {
  const { ask, strain } = await asInes();
  for (const siteId of [undefined, strain.id]) {
    const tried = await ask('POST', '/api/imports/preview', { ...oldGyle, siteId });
    expect([tried.status, tried.body.errors[0].path]).toEqual([422, 'siteId']);
  }
});

test('a row does not find a gyle or a lot of another site', async () => {
  const { ask, weir, crop } = await asInes();
  const csv = `Gyle,Lot,Amount,Pitched\n412,${crop.code},1,2026-03-03 12:00`;
  const { body } = await ask('POST', '/api/imports/preview', {
    siteId: weir.id,
    sheets: [sheet('pitches', csv)],
  });
  expect(body.sheets[0].problems).toMatchObject([
    { column: 'lot', message: `There is no lot ${crop.code} here or in the files` },
  ]);
});

test('a sensor that names an FV two sites have must say at which', async () => {
  const { app, ask, ferment, weirFerment, weirFv1 } = await asInes();
  const tokenFor = async (vesselId?: string) =>
    (await ask('POST', '/api/device-tokens', { sensor: 'Float', ...(vesselId && { vesselId }) }))
      .body.token;
  const post = async (token: string, reading: object) => {
    const answer = await app.request('/api/readings', {
      method: 'POST',
      headers: { authorization: `Bearer ${token}`, 'content-type': 'application/json' },
      body: JSON.stringify({ at: at(60), ph: 4.2, ...reading }),
    });
    return { status: answer.status, body: await answer.json() };
  };
  const readIn = async (fermentId: string) =>
    (await ask('GET', `/api/ferments/${fermentId}/standing`)).body.readings.length;
  const free = await tokenFor();
  const unsaid = await post(free, { vessel: 'FV1' });
  expect([unsaid.status, unsaid.body.errors[0].path]).toEqual([422, 'site']);
  const before = await readIn(ferment.id);
  expect((await post(free, { vessel: 'FV1', site: 'weir' })).status).toBe(200);
  expect((await post(free, { vessel: 'FV1', site: 'W', at: at(61) })).status).toBe(200);
  expect([await readIn(weirFerment.id), await readIn(ferment.id)]).toEqual([2, before]);
  const unknown = await post(free, { vessel: 'FV1', site: 'Mill' });
  expect([unknown.status, unknown.body.errors[0].path]).toEqual([422, 'site']);
  const bound = await tokenFor(weirFv1.id);
  expect((await post(bound, { vessel: 'FV1', at: at(62) })).status).toBe(200);
  expect(await readIn(weirFerment.id)).toBe(3);
});
