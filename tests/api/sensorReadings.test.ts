import { Hono } from 'hono';
import { expect, test } from 'vitest';
import type { Caller } from '#api/auth/caller.ts';
import { respondWithProblem } from '#api/problem.ts';
import { sensorRoutes } from '#api/sensorReadings.ts';
import { hourMs } from '#shared/durations.ts';
import { aSmallStory, at, storyStartMs } from '#tests/support/brewery.ts';

/** The route as a sensor meets it that showed a token for one FV, or for any. */
async function aSensor({ isForFv1 = false } = {}) {
  const story = await aSmallStory();
  const caller: Caller = {
    kind: 'device',
    device: {
      id: 'a1b2c3d4',
      sensor: 'Float in FV1',
      vesselId: isForFv1 ? story.fv1.id : null,
      secretSha256: '0'.repeat(64),
      createdBy: story.strain.id,
      createdMs: storyStartMs,
      lastUsedMs: null,
      revokedMs: null,
      oldSecretSha256: null,
      oldUntilMs: null,
    },
  };
  const app = new Hono()
    .onError((error) => respondWithProblem(error))
    .use(async (context, next) => {
      context.set('caller', caller);
      await next();
    })
    .route('/', sensorRoutes({ database: story.database, now: () => storyStartMs + 50 * hourMs }));
  const post = async (body: unknown) => {
    const response = await app.request('/readings', {
      method: 'POST',
      headers: { 'content-type': 'application/json' },
      body: JSON.stringify(body),
    });
    return { status: response.status, body: await response.json() };
  };
  const count = async () => {
    const { rows } = await story.database.execute(
      "SELECT count(*) AS n, group_concat(via) AS via, max(actor) AS actor FROM journal WHERE kind = 'reading'",
    );
    return { ...rows[0] };
  };
  return { ...story, post, count };
}

test('a batch is written in the units it states, and sent again writes nothing', async () => {
  const { post, count, database } = await aSensor();
  const batch = {
    readings: [
      { vessel: 'FV1', at: at(20), gravity: { value: 1030.5, unit: 'sg' } },
      { vessel: 'fv1', at: at(21), gravity: { value: 10, unit: 'plato' } },
      { vessel: 'FV1', at: at(22), temperature: { value: 68, unit: '°F' } },
    ],
  };
  const first = await post(batch);
  expect(first).toMatchObject({
    status: 200,
    body: { items: [{ isNew: true }, { isNew: true }, { isNew: true }] },
  });
  expect((await post(batch)).body.items).toMatchObject([
    { isNew: false },
    { isNew: false },
    { isNew: false },
  ]);
  expect(await count()).toEqual({ n: 3, via: 'device,device,device', actor: 'device a1b2c3d4' });
  const { rows } = await database.execute('SELECT * FROM reading ORDER BY happened_ms');
  expect(rows[0]?.gravity_sg).toBeCloseTo(1.0305, 10);
  // 10 °P is 1.0400 in the tables of the ASBC, from memory.
  expect(rows[1]?.gravity_sg).toBeCloseTo(1.04, 4);
  expect(rows[2]?.temp_c).toBeCloseTo(20, 10);
});

test('a bad reading of a batch is refused by name and holds none of the others up', async () => {
  const { post, count } = await aSensor();
  const { body } = await post({
    readings: [
      { vessel: 'FV9', at: at(20), ph: 4.2 },
      { vessel: 'FV2', at: at(20), ph: 4.2 },
      { vessel: 'FV1', at: at(20), gravity: { value: 13, unit: 'sg' } },
      { vessel: 'FV1', at: at(20) },
      { vessel: 'FV1', at: at(20), ph: 4.2 },
    ],
  });
  expect(body.items).toMatchObject([
    { code: 'invalid', errors: [{ path: 'vessel', message: 'There is no FV called FV9' }] },
    { code: 'invalid', errors: [{ path: 'vessel', message: 'The FV held no gyle then' }] },
    { code: 'invalid', errors: [{ path: 'gravity.value' }] },
    { code: 'invalid', errors: [{ path: 'gravity' }] },
    { isNew: true },
  ]);
  expect(await count()).toMatchObject({ n: 1 });
});

test('a sensor without a clock tells an age, and a key says what was sent before', async () => {
  const { post, count, database } = await aSensor({ isForFv1: true });
  const gravity = { value: 1020, unit: 'sg' };
  expect((await post({ ageS: 600, key: 'n-17', gravity })).body.items[0].isNew).toBe(true);
  expect((await post({ ageS: 615, key: 'n-17', gravity })).body.items[0].isNew).toBe(false);
  expect(await count()).toMatchObject({ n: 1 });
  const { rows } = await database.execute('SELECT happened_ms FROM reading');
  expect(rows[0]?.happened_ms).toBe(storyStartMs + 50 * hourMs - 600_000);
});

test('a token for one FV takes no readings of another', async () => {
  const { post } = await aSensor({ isForFv1: true });
  expect(await post({ vessel: 'FV2', at: at(20), ph: 4 })).toMatchObject({
    status: 422,
    body: { errors: [{ path: 'vessel', message: 'This token is for another FV' }] },
  });
  expect((await post({ readings: [] })).status).toBe(422);
  expect((await post({ at: at(20), gravity: { value: 1020 } })).status).toBe(422);
});

test('the token a sensor sends in the body is left behind, of one reading and of a batch', async () => {
  const { post, count, database } = await aSensor({ isForFv1: true });
  const token = `barm_a1b2c3d4_${'s'.repeat(43)}`;
  expect((await post({ token, at: at(20), ph: 4 })).status).toBe(200);
  expect((await post({ token, readings: [{ at: at(21), ph: 4 }] })).status).toBe(200);
  expect(await count()).toMatchObject({ n: 2 });
  const { rows } = await database.execute('SELECT * FROM journal');
  expect(JSON.stringify(rows)).not.toContain('sss');
});

test('a refusal names the field as the sensor sent it', async () => {
  const { post } = await aSensor({ isForFv1: true });
  const path = async (body: object) => {
    const { status, body: problem } = await post(body);
    return [status, problem.errors[0]?.path];
  };
  expect(await path({ at: at(60), ph: 4.2 })).toEqual([422, 'at']);
  expect(await path({ temperature: { value: 99, unit: '°C' } })).toEqual([422, 'temperature']);
  expect(await path({ temperature: { value: 20, unit: 'C' } })).toEqual([422, 'temperature.unit']);
  const bad = { readings: [{ ph: 4.2 }, { ph: 40 }] };
  expect(await path(bad)).toEqual([422, 'readings.1.ph']);
  expect(await path([])).toEqual([422, '']);
  expect(await path({ ageS: 60 })).toEqual([422, 'gravity']);
});
