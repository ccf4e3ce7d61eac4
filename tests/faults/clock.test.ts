import { expect, test } from 'vitest';
import { jsonLog } from '#api/log.ts';
import { createUpkeep } from '#api/upkeep/upkeep.ts';
import { clockFault } from '#db/journal/clock.ts';
import { noteUpkeep } from '#db/safety/upkeepEvents.ts';
import { hourMs } from '#shared/durations.ts';
import { aStrain, at, nextId, storyStartMs } from '#tests/support/brewery.ts';
import { anApi } from '#tests/support/server.ts';

const settings = {
  file: undefined,
  backupFolder: '/nowhere',
  mirrorFolder: undefined,
  secondFolder: undefined,
  everyHours: 0,
  leastFreeBytes: 0,
};
const vessel = (name: string, hours: number) => ({
  kind: 'vessel',
  happenedAt: at(hours),
  by: 'Ines',
  name,
});

async function aLogOfHour100() {
  const api = await anApi();
  api.setHours(100);
  expect((await api.put(aStrain({ happenedAt: at(99) }))).status).toBe(201);
  return api;
}

test.each([
  ['an hour behind', 99 - 0.01],
  ['a day behind', 76],
])('a clock %s writes nothing until it is right, and reads all the while', async (_how, hours) => {
  const api = await aLogOfHour100();
  api.setHours(hours);
  const refused = await api.put(vessel('FV1', Math.min(hours, 1) - 1));
  const problem = await refused.json();
  expect({ status: refused.status, code: problem.code }).toEqual({
    status: 503,
    code: 'clock_invalid',
  });
  expect(refused.headers.get('retry-after')).toBe('10');
  api.setHours(100.1);
  expect((await api.put(vessel('FV1', 1))).status).toBe(201);
});

test('a clock in 1970 knows no session, and writes nothing', async () => {
  const api = await aLogOfHour100();
  api.setHours(-storyStartMs / hourMs);
  expect((await api.put(vessel('FV1', 1))).status).toBe(401);
  expect(await clockFault(api.database.query, 0)).toMatchObject({ code: 'clock_invalid' });
});

test.each([
  ['an hour behind', 99 - 0.01],
  ['in 1970', -storyStartMs / hourMs],
])('a start with the clock %s serves what is there and says so', async (_how, hours) => {
  const api = await aLogOfHour100();
  let nowMs = storyStartMs + hours * hourMs;
  const upkeep = await createUpkeep({
    database: api.database,
    settings,
    now: () => nowMs,
    newId: nextId,
    log: jsonLog(
      () => undefined,
      () => nowMs,
    ),
  });
  await upkeep.jobs.watch();
  expect(upkeep.warnings()).toEqual(['clock']);
  nowMs = storyStartMs + 101 * hourMs;
  await upkeep.jobs.watch();
  expect(upkeep.warnings()).toEqual([]);
});

test('minutes behind are no fault: entries are received one after the other', async () => {
  const api = await aLogOfHour100();
  api.setHours(100 - 4 / 60);
  const [first, second] = [await api.put(vessel('FV1', 1)), await api.put(vessel('FV2', 1))];
  expect([first.status, second.status]).toEqual([201, 201]);
  const { rows } = await api.database.execute('SELECT received_ms FROM journal ORDER BY seq');
  const received = rows.map((row) => Number(row.received_ms));
  expect(received).toEqual([...received].sort((a, b) => a - b));
  expect(new Set(received).size).toBe(received.length);
});

test('a clock ten years ahead keeps the order; set right again, it is accepted by hand', async () => {
  const api = await aLogOfHour100();
  api.setHours(100 + 10 * 365.25 * 24);
  expect((await api.put(vessel('FV1', 1))).status).toBe(201);
  api.setHours(101);
  expect((await api.put(vessel('FV2', 1))).status).toBe(503);
  const atMs = storyStartMs + 101 * hourMs;
  await noteUpkeep(api.database, { atMs, kind: 'clock accepted', detail: { seq: 2 } });
  expect((await api.put(vessel('FV2', 1))).status).toBe(201);
  expect((await api.put(vessel('FV3', 1))).status).toBe(201);
  const { rows } = await api.database.execute('SELECT seq, received_ms FROM journal ORDER BY seq');
  expect(rows.map((row) => row.seq)).toEqual([1, 2, 3, 4]);
  expect(rows.at(-1)?.received_ms).toBe(atMs + 1);
});

test.each([
  ['six minutes from now', at(100.1)],
  ['before 2000', '1999-12-31T23:00:00Z'],
])('what happened %s is refused, a void too', async (_when, happenedAt) => {
  const api = await aLogOfHour100();
  const made = await (await api.put(vessel('FV1', 1))).json();
  const facts = await api.put({ ...vessel('FV2', 1), happenedAt });
  const strike = await api.put({
    kind: 'void',
    happenedAt,
    by: 'Ines',
    supersedes: made.id,
    reason: 'not ours',
  });
  expect([facts.status, strike.status]).toEqual([422, 422]);
});

test('what happened four minutes from now is taken: clocks differ', async () => {
  const api = await aLogOfHour100();
  expect((await api.put({ ...vessel('FV1', 1), happenedAt: at(100 + 4 / 60) })).status).toBe(201);
});
