import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import type { Entry } from '#shared/entries/entry.ts';
import { sentAtHeader } from '#shared/entryTiming.ts';
import { aStrain, at, nextId } from '#tests/support/brewery.ts';
import { anApi } from '#tests/support/server.ts';

/** A log at hour 8 of the story, and a device that sends what its clock shows along. */
async function aDevice() {
  const api = await anApi();
  api.setHours(8);
  const put = (entry: Entry, sentAt: string, id = nextId()) =>
    api.request(`/api/entries/${id}`, {
      method: 'PUT',
      headers: { 'content-type': 'application/json', [sentAtHeader]: sentAt },
      body: JSON.stringify(entry),
    });
  return { ...api, put };
}

test('PUT /api/entries/{id} keeps by how much the clock of the device was off as it sent', async () => {
  const { put, get } = await aDevice();
  const id = nextId();
  expect((await put(aStrain({ happenedAt: at(5) }), at(5), id)).status).toBe(201);
  const { items } = await (await get(`/api/records/${id}/history`)).json();
  expect(items).toMatchObject([
    {
      happenedAt: at(5),
      receivedAt: at(8),
      clockFastMs: -3 * 3_600_000,
      timeRemarks: ['device clock was 3 h behind'],
    },
  ]);
});

test('GET /api/export/{noun}.csv and log.json say so too', async () => {
  const { put, get } = await aDevice();
  await put(aStrain({ happenedAt: at(1) }), at(5));
  await put(aStrain({ name: 'Skua', code: 'SK', happenedAt: at(8) }), at(8));
  const rows = parse(await (await get('/api/export/strains.csv')).text(), {
    bom: true,
    columns: true,
  });
  expect(rows).toMatchObject([
    { name: 'Skua', clockFastMinutes: '0', timeRemarks: '' },
    {
      name: 'Tern',
      happenedAt: at(1),
      clockFastMinutes: '-180',
      timeRemarks: 'device clock was 3 h behind; entered 4 h after it happened',
    },
  ]);
  const log = await (await get('/api/export/log.json')).json();
  expect(log.entries).toMatchObject([
    { timeRemarks: ['device clock was 3 h behind', 'entered 4 h after it happened'] },
    { clockFastMs: 0, timeRemarks: [] },
  ]);
});

test('a clock that is no moment is refused by name, and nothing is written', async () => {
  const { put, get } = await aDevice();
  const refused = await put(aStrain(), 'half past nine');
  expect(refused.status).toBe(422);
  expect(await refused.json()).toMatchObject({ errors: [{ path: sentAtHeader }] });
  expect(await (await get('/api/entries')).json()).toMatchObject({ items: [] });
});
