import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { aFerment, aStrain, at } from '#tests/support/brewery.ts';
import { anApi } from '#tests/support/server.ts';

test('GET /api/export/{noun}.csv holds every record as it stands, safe for a spreadsheet', async () => {
  const { put, get, setHours } = await anApi();
  setHours(400);
  await put(aStrain({ name: '=HYPERLINK("x")', note: 'from the "old" bank' }));
  for (let hour = 0; hour < 250; hour += 1)
    await put({
      kind: 'vessel',
      happenedAt: at(hour),
      by: 'Ines',
      name: `FV${hour}`,
      capacityL: 0.5,
    });
  const response = await get('/api/export/strains.csv');
  expect(response.headers.get('content-type')).toBe('text/csv; charset=utf-8');
  expect(response.headers.get('content-disposition')).toBe(
    'attachment; filename="barmbook-strains.csv"',
  );
  const strains = parse(await response.text(), { bom: true, columns: true });
  expect(strains).toMatchObject([
    { name: `'=HYPERLINK("x")`, note: 'from the "old" bank', rateMillionPerMlPerPlato: '0.75' },
  ]);
  const vessels = parse(await (await get('/api/export/vessels.csv')).text(), {
    bom: true,
    columns: true,
  });
  expect(vessels).toHaveLength(250);
  expect(vessels[0]).toMatchObject({ name: 'FV249', capacityL: '0.5' });
  expect((await get('/api/export/secrets.csv')).status).toBe(404);
});

test('a table calls lots, gyles, fermenters and strains by their names, beside their ids', async () => {
  const { put, get, setHours } = await anApi();
  setHours(100);
  const id = async (entry: Record<string, unknown>) => (await (await put(entry)).json()).id;
  const by = 'Ines';
  const strainId = await id(aStrain());
  const vesselId = await id({ kind: 'vessel', happenedAt: at(0), by, name: 'FV1' });
  const lotId = await id({
    ...{ kind: 'freshCulture', happenedAt: at(0), by, strainId, origin: 'bought', generation: 0 },
    ...{ code: 'TN-FRESH', amountKg: 20 },
  });
  const fermentId = await id(aFerment({ vesselId, strainId, gyle: '412' }));
  await id({ kind: 'pitch', happenedAt: at(2), by, fermentId, lotId, amountKg: 5 });
  const table = async (noun: string) =>
    parse(await (await get(`/api/export/${noun}.csv`)).text(), { bom: true, columns: true });
  expect(await table('pitches')).toMatchObject([
    { lot: 'TN-FRESH', lotId, gyle: '412', fermentId },
  ]);
  expect(await table('ferments')).toMatchObject([{ gyle: '412', vessel: 'FV1', strain: 'Tern' }]);
});

test('GET /api/export/log.json holds the journal with its seals and every record', async () => {
  const { put, get } = await anApi();
  await put(aStrain());
  const log = await (await get('/api/export/log.json')).json();
  expect(log.entries).toMatchObject([
    { seq: 1, kind: 'strain', hash: expect.stringMatching(/^[0-9a-f]{64}$/) },
  ]);
  expect(log.records.strains).toMatchObject([{ name: 'Tern' }]);
  expect(log.records.pitches).toEqual([]);
});
