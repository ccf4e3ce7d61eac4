import { expect, test } from 'vitest';
import { createApp } from '#api/app.ts';
import { hourMs } from '#shared/durations.ts';
import { freshDatabase, storyStartMs } from '#tests/support/brewery.ts';
import {
  knownPassword as password,
  knownPasswordHash as passwordHash,
} from '#tests/support/knownPassword.ts';
import { anAccount } from '#tests/support/signedIn.ts';

/** Ines at one browser, whose tabs share its cookies, and a clock that the test sets in hours. */
async function aBrowser({ scheme = 'http' } = {}) {
  const database = await freshDatabase();
  let hours = 0;
  const app = createApp({ database, now: () => storyStartMs + hours * hourMs });
  await anAccount(database, { userName: 'ines', roles: ['head'], passwordHash });
  const name = scheme === 'https' ? '__Host-barm' : 'barm';
  /** A request with a token of one's own; gives the token its answer brings, if any. */
  const ask = async (token: string, path = '/api/account/sessions') => {
    const response = await app.request(path, { headers: { cookie: `${name}=${token}` } });
    const cookie = response.headers.getSetCookie()[0] ?? '';
    return { status: response.status, cookie, next: /=([\w-]{43});/.exec(cookie)?.[1] };
  };
  const post = (path: string, body: unknown, headers: Record<string, string> = {}) =>
    app.request(path, {
      method: 'POST',
      headers: { origin: `${scheme}://localhost`, 'content-type': 'application/json', ...headers },
      body: JSON.stringify(body),
    });
  const signedIn = await post('/api/session', { userName: 'ines', password, keep: true });
  const token = /=([\w-]{43});/.exec(signedIn.headers.getSetCookie()[0] ?? '')?.[1] ?? '';
  const at = (value: number) => {
    hours = value;
  };
  return { database, ask, post, token, at, cookie: `${name}=${token}` };
}

test('a token is renewed once it is a day old, with the time its session has left', async () => {
  const { ask, token, at } = await aBrowser();
  at(23.9);
  expect(await ask(token)).toMatchObject({ status: 200, cookie: '' });
  at(24);
  const { cookie, next } = await ask(token);
  expect(next).not.toBe(token);
  expect(cookie).toMatch(
    new RegExp(`^barm=[\\w-]{43}; Path=/; HttpOnly; SameSite=Lax; Max-Age=${29 * 86_400}$`),
  );
  expect(await ask(next ?? '')).toMatchObject({ status: 200, cookie: '' });
  at(48);
  expect((await ask(next ?? '')).next).toMatch(/^[\w-]{43}$/);
});

test('over TLS the next token keeps to TLS, also where a page only reads', async () => {
  const { ask, token, at } = await aBrowser({ scheme: 'https' });
  at(24);
  expect((await ask(token)).cookie).toMatch(/^__Host-barm=.*; Secure; Max-Age=/);
});

test('of two tabs at once one gets the next token, and neither is signed out', async () => {
  const { ask, token, at } = await aBrowser();
  at(24);
  const both = await Promise.all([ask(token), ask(token), ask(token)]);
  expect(both.map(({ status }) => status)).toEqual([200, 200, 200]);
  const given = both.flatMap(({ next }) => next ?? []);
  expect(given).toHaveLength(1);
  expect((await ask(given[0] ?? '')).status).toBe(200);
  // What the other tab had under way comes a little later.
  at(24 + 4 / 60);
  expect((await ask(token)).status).toBe(200);
  at(24 + 6 / 60);
  expect((await ask(token)).status).toBe(401);
  expect((await ask(given[0] ?? '')).status).toBe(200);
});

test('where the answer with the next token is lost, the old one stays good and brings another', async () => {
  const { ask, token, at } = await aBrowser();
  at(24);
  const lost = await ask(token);
  expect(lost.next).toMatch(/^[\w-]{43}$/);
  at(40);
  const again = await ask(token);
  expect(again.status).toBe(200);
  expect(again.next).not.toBe(lost.next);
  expect((await ask(lost.next ?? '')).status).toBe(401);
  expect((await ask(again.next ?? '')).status).toBe(200);
});

test('ending the session ends its next and its old token too', async () => {
  const { ask, database, token, at } = await aBrowser();
  at(24);
  const { next = '' } = await ask(token);
  await ask(next);
  at(48);
  const last = (await ask(next)).next ?? '';
  await database.write(['DELETE FROM session']);
  for (const each of [token, next, last]) expect((await ask(each)).status).toBe(401);
});

test('a log that can only be read keeps the token it has', async () => {
  const { ask, database, token, at } = await aBrowser();
  at(24);
  database.writeStops.set('disk', { code: 'storage_full', reason: 'full' });
  expect(await ask(token)).toMatchObject({ status: 200, cookie: '' });
});

/** A token of a sensor, and what a post with a token in its header or in its body is answered. */
async function aSensor() {
  const browser = await aBrowser();
  const { post, cookie } = browser;
  const made = await (await post('/api/device-tokens', { sensor: 'Float 1' }, { cookie })).json();
  const reading = { vessel: 'FV9', ph: 4 };
  return {
    ...browser,
    id: String(made.id),
    sensorToken: String(made.token),
    renew: (id: string) => post(`/api/device-tokens/${id}/renewals`, {}, { cookie }),
    byHeader: async (token: string) =>
      (await post('/api/readings', reading, { authorization: `Bearer ${token}` })).status,
    byBody: async (token: unknown) => post('/api/readings', { ...reading, token }),
  };
}

// The FV does not exist, so that a reading let in is told so.
const letIn = 422;

test('a sensor’s token is renewed with a day to give it the new one; revoking ends both', async () => {
  const { renew, byHeader, sensorToken, id, at, post, database } = await aSensor();
  const renewed = await renew(id);
  expect(renewed.status).toBe(201);
  const { token, oldUntil } = await renewed.json();
  expect(oldUntil).toBe(new Date(storyStartMs + 24 * hourMs).toISOString());
  expect([await byHeader(sensorToken), await byHeader(token)]).toEqual([letIn, letIn]);
  at(24);
  expect([await byHeader(sensorToken), await byHeader(token)]).toEqual([401, letIn]);
  at(0);
  await database.write([
    { sql: 'UPDATE device_token SET revoked_ms = 1 WHERE id = ?', args: [id] },
  ]);
  expect([await byHeader(sensorToken), await byHeader(token)]).toEqual([401, 401]);
  expect((await renew(id)).status).toBe(409);
  expect((await renew('nosuchid')).status).toBe(404);
  expect((await post('/api/device-tokens/x/renewals', {}, { cookie: '' })).status).toBe(401);
});

test('a sensor that sets no header shows its token in the body, never in the address', async () => {
  const { byBody, sensorToken, post, database } = await aSensor();
  expect((await byBody(sensorToken)).status).toBe(letIn);
  for (const wrong of [`${sensorToken}x`, 7, null, { id: 1 }, undefined]) {
    const answer = await byBody(wrong);
    expect(answer.status).toBe(401);
    expect(await answer.text()).toContain('Show the token of the device');
  }
  const inAddress = await post(`/api/readings?token=${sensorToken}`, { vessel: 'FV9', ph: 4 });
  expect(inAddress.status).toBe(401);
  const { rows: tables } = await database.execute(
    "SELECT name FROM sqlite_master WHERE type = 'table'",
  );
  for (const { name } of tables) {
    const { rows } = await database.execute(`SELECT * FROM "${name}"`);
    expect(JSON.stringify(rows), String(name)).not.toContain(sensorToken.slice(-43));
  }
});
