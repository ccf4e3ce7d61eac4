import { expect, test } from 'vitest';
import type { FermentSheet, FermentStanding } from '#shared/views/ferments.ts';
import type { Today } from '#shared/views/today.ts';
import { aFerment, aStrain, at } from '#tests/support/brewery.ts';
import { anApi } from '#tests/support/server.ts';

/** Gyle 412, pitched at hour 2 of the story with a fresh culture. */
async function pitchedGyle() {
  const api = await anApi();
  const { write } = api;
  const strain = await write(0, aStrain());
  const vessel = await write(0, { kind: 'vessel', name: 'FV1' });
  const fresh = { kind: 'freshCulture', strainId: strain.id, origin: 'bought', generation: 0 };
  const lot = await write(0, { ...fresh, amountL: 20 });
  const { id } = await write(
    1,
    aFerment({ vesselId: vessel.id, strainId: strain.id, happenedAt: at(1) }),
  );
  await write(2, { kind: 'pitch', fermentId: id, lotId: lot.id, amountL: 11 });
  const read = (hours: number, gravitySg: number) =>
    write(hours, { kind: 'reading', fermentId: id, gravitySg });
  const standing = async (): Promise<FermentSheet> => {
    const response = await api.get(`/api/ferments/${id}/standing`);
    expect(response.status).toBe(200);
    return response.json();
  };
  return { ...api, id, read, standing };
}

test('GET /ferments/{id}/standing notes odd readings, keeps them, and judges the rest', async () => {
  const { read, standing, setHours } = await pitchedGyle();
  await read(1.5, 1.04);
  await read(12, 1.0385);
  const first = await read(26, 1.031);
  const second = await read(26, 1.0315);
  const risen = await read(30, 1.034);
  setHours(32);
  const { notes, gravities, readings, flag, running, band } = await standing();
  expect(notes.map(({ message }) => message)).toEqual([
    'taken before the pitch, left out',
    'same time as another, averaged',
    'higher than the reading before it, kept',
  ]);
  expect([first.recordId, second.recordId]).toContain(notes[1]?.recordId);
  expect(notes[2]?.recordId).toBe(risen.recordId);
  expect([gravities.length, readings.length]).toEqual([5, 5]);
  expect(flag.status).toBe('on course');
  expect(running?.expectation).toMatchObject({ basis: 'published figures', pastFerments: 0 });
  expect(running?.falseAlarmRate).toBe(0.05);
  expect(band?.points[0]).toMatchObject({ hours: 0, low: 1.04, high: 1.04, fittedSg: null });
});

test('GET /ferments/current asks for a gravity of what was not read for too long', async () => {
  const { read, get, setHours } = await pitchedGyle();
  await read(14, 1.038);
  setHours(44);
  const { items }: { items: FermentStanding[] } = await (await get('/api/ferments/current')).json();
  expect(items[0]?.flag).toEqual({
    status: 'no reading',
    why: 'Last read at hour 12: take a gravity.',
  });
  const today: Today = await (await get('/api/today')).json();
  const titles = today.actions.map(({ title }) => title);
  expect(titles).toContain('Take a gravity of gyle 412');
});
