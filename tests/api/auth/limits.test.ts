import { expect, test } from 'vitest';
import { createApp } from '#api/app.ts';
import { requestLimits } from '#shared/requestLimits.ts';
import { freshDatabase, storyStartMs } from '#tests/support/brewery.ts';
import { ownOrigin } from '#tests/support/server.ts';
import { aSession } from '#tests/support/signedIn.ts';

const { session, device, sum } = requestLimits;
const limitsOfExports = requestLimits.export;

/** The interface with its limits, and a clock that the test sets in seconds. */
async function aSite() {
  const database = await freshDatabase();
  let seconds = 0;
  const now = () => storyStartMs + seconds * 1_000;
  const app = createApp({ database, now, limits: requestLimits });
  const { cookie } = await aSession(database, { userName: 'ines', roles: ['head'] });
  const get = (path: string, as = cookie) => app.request(path, { headers: { cookie: as } });
  const post = (path: string, body: unknown, headers: Record<string, string> = {}) =>
    app.request(path, {
      method: 'POST',
      headers: { origin: ownOrigin, 'content-type': 'application/json', ...headers },
      body: JSON.stringify(body),
    });
  return {
    database,
    cookie,
    get,
    post,
    /** The statuses of so many requests in the same moment. */
    many: async (count: number, ask: () => Response | Promise<Response>) => {
      const statuses: number[] = [];
      for (let n = 0; n < count; n += 1) statuses.push((await ask()).status);
      return statuses;
    },
    at: (value: number) => {
      seconds = value;
    },
  };
}
const refused = (statuses: readonly number[]) => statuses.filter((status) => status === 429).length;

test('one sign-in asks so often at once, then so often a minute, and is told how long to wait', async () => {
  const { get, many, at } = await aSite();
  const first = await many(session.atOnce + 5, () => get('/api/account/sessions'));
  expect(refused(first)).toBe(5);
  expect(first.indexOf(429)).toBe(session.atOnce);
  const answer = await get('/api/account/sessions');
  expect(answer.headers.get('retry-after')).toBe('1');
  expect(await answer.json()).toMatchObject({
    status: 429,
    code: 'too_many',
    detail: `More than ${session.perMinute} requests from one sign-in a minute: go on in 1 second. Nothing was saved by this one.`,
  });
  at(6);
  const later = await many(session.perMinute / 10 + 3, () => get('/api/account/sessions'));
  expect(refused(later)).toBe(3);
});

test('another sign-in, and what anyone may ask, go on meanwhile', async () => {
  const { database, get, many } = await aSite();
  await many(session.atOnce + 1, () => get('/api/account/sessions'));
  const tom = await aSession(database, { userName: 'tom', roles: ['viewer'] });
  expect((await get('/api/account/sessions', tom.cookie)).status).toBe(200);
  expect((await get('/healthz')).status).toBe(200);
  expect((await get('/api/session')).status).toBe(200);
});

test('exports have a narrower limit of their own', async () => {
  const { get, many, at } = await aSite();
  const first = await many(limitsOfExports.atOnce + 1, () => get('/api/export/strains.csv'));
  expect(refused(first)).toBe(1);
  const answer = await get('/api/export/strains.csv');
  expect(Number(answer.headers.get('retry-after'))).toBe(60 / limitsOfExports.perMinute);
  expect((await get('/api/account/sessions')).status).toBe(200);
  at(60 / limitsOfExports.perMinute);
  expect((await get('/api/export/strains.csv')).status).toBe(200);
});

test('each device token has a limit, and a refused post writes nothing', async () => {
  const { cookie, database, post, many } = await aSite();
  const tokenOf = async (sensor: string): Promise<string> =>
    (await (await post('/api/device-tokens', { sensor }, { cookie })).json()).token;
  const [one, other] = [await tokenOf('Float 1'), await tokenOf('Float 2')];
  const send = (token: string) =>
    post('/api/readings', { vessel: 'FV9', ph: 4 }, { authorization: `Bearer ${token}` });
  const statuses = await many(device.atOnce + 4, () => send(one));
  expect(new Set(statuses)).toEqual(new Set([422, 429]));
  expect(refused(statuses)).toBe(4);
  expect((await send(other)).status).toBe(422);
  expect((await database.execute('SELECT count(*) AS n FROM journal')).rows[0]?.n).toBe(0);
});

test('sums, which answer to anyone, have a limit for each address', async () => {
  const { get, post, many, at } = await aSite();
  const ask = () => post('/api/calculations/gravity', { gravitySg: 1.04 });
  const statuses = await many(sum.atOnce + 3, ask);
  expect(statuses.indexOf(429)).toBe(sum.atOnce);
  expect(refused(statuses)).toBe(3);
  expect((await get('/api/account/sessions')).status).toBe(200);
  expect((await get('/api/passphrase')).status).toBe(200);
  at(60 / sum.perMinute);
  expect((await ask()).status).toBe(200);
});

test('a clock that is set back neither locks out nor gives more', async () => {
  const { get, many, at } = await aSite();
  at(200);
  await many(session.atOnce, () => get('/api/account/sessions'));
  at(0);
  expect((await get('/api/account/sessions')).status).toBe(429);
  at(1);
  expect((await get('/api/account/sessions')).status).toBe(200);
});

test('the document tells the limits, and each call its own', async () => {
  const { get } = await aSite();
  const document = await (await get('/api/openapi.json')).json();
  expect(document['x-request-limits']).toEqual(requestLimits);
  const said = (path: string, method: string) =>
    document.paths[path][method].responses[429]?.description;
  expect(said('/api/today', 'get')).toContain(`More than ${session.perMinute} requests`);
  expect(said('/api/export/log.json', 'get')).toContain('exports');
  expect(said('/api/readings', 'post')).toContain('device token');
  expect(said('/api/calculations/count', 'post')).toContain('sums from one address');
  expect(said('/healthz', 'get')).toBeUndefined();
});
