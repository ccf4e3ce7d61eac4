import { expect, test } from 'vitest';
import { createApp } from '#api/app.ts';
import { openWelcome } from '#api/auth/access.ts';
import { hashPassword } from '#api/auth/passwords.ts';
import { demoPassword, demoPasswordHash } from '#db/demo/demoPeople.ts';
import { hourMs } from '#shared/durations.ts';
import type { Role } from '#shared/roles.ts';
import { freshDatabase, storyStartMs } from '#tests/support/brewery.ts';
import {
  knownPassword as password,
  knownPasswordHash as passwordHash,
} from '#tests/support/knownPassword.ts';
import { anAccount } from '#tests/support/signedIn.ts';

/** A site with Ines, a head brewer, and a browser that keeps its cookies. */
async function aSite({ scheme = 'http', withInes = true } = {}) {
  const database = await freshDatabase();
  let hours = 0;
  const now = () => storyStartMs + hours * hourMs;
  const { code, welcome } = openWelcome(storyStartMs);
  const app = createApp({ database, now, access: { welcome } });
  const addPerson = (userName: string, roles: readonly Role[]) =>
    anAccount(database, { userName, roles, passwordHash });
  if (withInes) await addPerson('ines', ['head']);
  return {
    app,
    database,
    code,
    addPerson,
    setHours: (value: number) => {
      hours = value;
    },
    browser: () => aBrowser(app, scheme),
  };
}

function aBrowser(app: ReturnType<typeof createApp>, scheme: string) {
  const jar = new Map<string, string>();
  const send = async (method: string, path: string, body?: unknown) => {
    const response = await app.request(path, {
      method,
      headers: {
        origin: `${scheme}://localhost`,
        cookie: [...jar].map(([name, value]) => `${name}=${value}`).join('; '),
        ...(body === undefined ? {} : { 'content-type': 'application/json' }),
      },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    for (const cookie of response.headers.getSetCookie()) {
      const [, name = '', value = ''] = /^([^=]+)=([^;]*)/.exec(cookie) ?? [];
      if (/Max-Age=0/.test(cookie)) jar.delete(name);
      else jar.set(name, value);
    }
    return { status: response.status, cookies: response.headers.getSetCookie(), response };
  };
  const signIn = (typed: { userName?: string; password?: string; keep?: boolean } = {}) =>
    send('POST', '/api/session', { userName: 'ines', password, keep: false, ...typed });
  return { jar, send, signIn, get: (path: string) => send('GET', path) };
}

test('signing in makes a new token whatever the browser brought, and keeps only its digest', async () => {
  const site = await aSite();
  const browser = site.browser();
  const brought = 'f'.repeat(43);
  browser.jar.set('barm', brought);
  expect((await browser.get('/api/today')).status).toBe(401);
  expect((await browser.signIn()).status).toBe(201);
  const token = browser.jar.get('barm') ?? '';
  expect(token).toMatch(/^[\w-]{43}$/);
  expect(token).not.toBe(brought);
  expect((await browser.get('/api/today')).status).toBe(200);
  const { rows } = await site.database.execute('SELECT * FROM session');
  expect(rows).toHaveLength(1);
  expect(JSON.stringify(rows)).not.toContain(token);
});

test('the session’s cookie is kept from scripts and other sites, and over TLS from plain http', async () => {
  const plain = await (await aSite()).browser().signIn({ keep: true });
  expect(plain.cookies[0]).toMatch(
    /^barm=[\w-]{43}; Path=\/; HttpOnly; SameSite=Lax; Max-Age=2592000$/,
  );
  const shift = await (await aSite()).browser().signIn();
  expect(shift.cookies[0]).toMatch(/^barm=[\w-]{43}; Path=\/; HttpOnly; SameSite=Lax$/);
  const overTls = await (await aSite({ scheme: 'https' })).browser().signIn();
  expect(overTls.cookies[0]).toMatch(
    /^__Host-barm=[\w-]{43}; Path=\/; HttpOnly; SameSite=Lax; Secure$/,
  );
});

test('two cookies of one name are no session', async () => {
  const browser = (await aSite()).browser();
  await browser.signIn();
  const token = browser.jar.get('barm') ?? '';
  browser.jar.set(' barm', 'x'.repeat(43));
  expect((await browser.get('/api/today')).status).toBe(401);
  browser.jar.delete(' barm');
  expect(token).toHaveLength(43);
  expect((await browser.get('/api/today')).status).toBe(200);
});

test('after signing out the token opens nothing', async () => {
  const browser = (await aSite()).browser();
  await browser.signIn();
  const token = browser.jar.get('barm') ?? '';
  expect((await browser.send('DELETE', '/api/session')).status).toBe(200);
  expect(browser.jar.has('barm')).toBe(false);
  browser.jar.set('barm', token);
  expect((await browser.get('/api/today')).status).toBe(401);
});

test.each([
  ['one shift', false, 11.9, 12.1],
  ['a fortnight without use', true, 13.9 * 24, 28 * 24],
])('a session ends after %s', async (_what, keep, stillIn, out) => {
  const site = await aSite();
  const browser = site.browser();
  await browser.signIn({ keep });
  site.setHours(stillIn);
  expect((await browser.get('/api/today')).status).toBe(200);
  site.setHours(out);
  expect((await browser.get('/api/today')).status).toBe(401);
});

test('a kept session in daily use ends after 30 days all the same', async () => {
  const site = await aSite();
  const browser = site.browser();
  await browser.signIn({ keep: true });
  for (let day = 1; day <= 29; day += 1) {
    site.setHours(day * 24);
    expect((await browser.get('/api/session')).status).toBe(200);
  }
  expect((await browser.get('/api/today')).status).toBe(200);
  site.setHours(30 * 24 + 1);
  expect((await browser.get('/api/today')).status).toBe(401);
});

test('a clock set back does not let a session live on', async () => {
  const site = await aSite();
  site.setHours(48);
  const browser = site.browser();
  await browser.signIn();
  site.setHours(0);
  expect((await browser.get('/api/today')).status).toBe(401);
});

test('changing the password wants the present one and ends every other session', async () => {
  const site = await aSite();
  const [here, there] = [site.browser(), site.browser()];
  await here.signIn();
  await there.signIn();
  const change = { current: 'not the one at all', password: 'seven bells and a wet deck' };
  expect((await here.send('PUT', '/api/account/password', change)).status).toBe(401);
  expect((await there.get('/api/today')).status).toBe(200);
  const right = { ...change, current: password };
  expect((await here.send('PUT', '/api/account/password', right)).status).toBe(200);
  expect((await there.get('/api/today')).status).toBe(401);
  expect((await here.get('/api/today')).status).toBe(200);
  expect((await there.signIn()).status).toBe(401);
  expect((await there.signIn({ password: right.password })).status).toBe(201);
});

test('changing the password leaves a copy of the session’s token worthless', async () => {
  const site = await aSite();
  for (const keep of [true, false]) {
    const [here, thief] = [site.browser(), site.browser()];
    await here.signIn({ keep });
    for (const [name, value] of here.jar) thief.jar.set(name, value);
    expect((await thief.get('/api/today')).status).toBe(200);
    const change = { current: password, password };
    const { status, cookies } = await here.send('PUT', '/api/account/password', change);
    expect(status).toBe(200);
    expect(cookies.some((cookie) => /Max-Age=\d{6}/.test(cookie))).toBe(keep);
    expect((await thief.get('/api/today')).status).toBe(401);
    expect((await here.get('/api/today')).status).toBe(200);
  }
});

test('a session that is over, or another’s, is not said to be ended', async () => {
  const site = await aSite();
  await site.addPerson('maeve', ['cellar']);
  const [ines, maeve] = [site.browser(), site.browser()];
  await ines.signIn();
  await maeve.signIn({ userName: 'maeve' });
  const sessions = await (await ines.get('/api/account/sessions')).response.json();
  const path = `/api/account/sessions/${sessions.items[0].id}`;
  expect((await maeve.send('DELETE', path)).status).toBe(404);
  expect((await ines.get('/api/today')).status).toBe(200);
  const { response } = await ines.get('/api/security-events');
  const { items } = await response.json();
  expect(items.map(({ what }: { what: string }) => what)).not.toContain('session ended');
  expect((await ines.send('DELETE', path)).status).toBe(200);
  expect((await ines.get('/api/today')).status).toBe(401);
});

test('closing an account ends its sessions at once and keeps it out', async () => {
  const site = await aSite();
  await site.addPerson('maeve', ['cellar']);
  const [ines, maeve] = [site.browser(), site.browser()];
  await ines.signIn();
  await maeve.signIn({ userName: 'maeve' });
  const { items } = await (await ines.get('/api/people')).response.json();
  const { id } = items.find((person: { userName: string }) => person.userName === 'maeve');
  const closing = { name: 'Maeve', roles: ['cellar'], open: false };
  expect((await ines.send('PUT', `/api/people/${id}`, closing)).status).toBe(200);
  expect((await maeve.get('/api/today')).status).toBe(401);
  expect((await maeve.signIn({ userName: 'maeve' })).status).toBe(401);
});

test('the last head brewer can neither be closed nor lose the role', async () => {
  const site = await aSite();
  const ines = site.browser();
  await ines.signIn();
  const { items } = await (await ines.get('/api/people')).response.json();
  const path = `/api/people/${items[0].id}`;
  for (const change of [
    { name: 'Ines', roles: ['head'], open: false },
    { name: 'Ines', roles: ['brewer'], open: true },
  ])
    expect((await ines.send('PUT', path, change)).status).toBe(409);
  expect((await (await ines.get('/api/people')).response.json()).items[0].roles).toEqual(['head']);
});

test('accounts and tokens want the password again after five minutes', async () => {
  const site = await aSite();
  const ines = site.browser();
  await ines.signIn();
  const token = { sensor: 'Float 3' };
  expect((await ines.send('POST', '/api/device-tokens', token)).status).toBe(201);
  site.setHours(0.1);
  const late = await ines.send('POST', '/api/device-tokens', token);
  expect([late.status, (await late.response.json()).code]).toEqual([403, 'prove_again']);
  expect((await ines.send('POST', '/api/session/proofs', { password: 'wrong one' })).status).toBe(
    401,
  );
  expect((await ines.send('POST', '/api/session/proofs', { password })).status).toBe(201);
  expect((await ines.send('POST', '/api/device-tokens', token)).status).toBe(201);
});

test('the set-up code makes one head brewer, once, and only while there is no account', async () => {
  const site = await aSite({ withInes: false });
  const browser = site.browser();
  const first = { code: site.code, name: 'Ines', userName: 'ines', password, keep: true };
  const wrong = { ...first, code: 'AAAAA-AAAAA-AAAAA-AAAAA-AAAAA-A' };
  expect((await browser.send('POST', '/api/first-account', wrong)).status).toBe(401);
  const weak = { ...first, password: 'short' };
  expect((await browser.send('POST', '/api/first-account', weak)).status).toBe(422);
  // Typed with small letters and without its dashes it is the same code.
  const typed = { ...first, code: site.code.toLowerCase().replaceAll('-', ' ') };
  const answers = await Promise.all([
    browser.send('POST', '/api/first-account', typed),
    site.browser().send('POST', '/api/first-account', { ...typed, userName: 'other' }),
  ]);
  expect(answers.map(({ status }) => status).sort()).toEqual([201, 409]);
  const { rows } = await site.database.execute('SELECT count(*) AS n FROM account');
  expect(rows[0]?.n).toBe(1);
});

test('the set-up code is good for an hour', async () => {
  const site = await aSite({ withInes: false });
  site.setHours(1.01);
  const first = { code: site.code, name: 'Ines', userName: 'ines', password, keep: true };
  expect((await site.browser().send('POST', '/api/first-account', first)).status).toBe(401);
});

test('a new person chooses a password with a code that is good once and for 72 hours', async () => {
  const site = await aSite();
  const ines = site.browser();
  await ines.signIn({ keep: true });
  const person = { name: 'Maeve', userName: 'maeve', roles: ['cellar'] };
  const made = await ines.send('POST', '/api/people', person);
  const { code } = await made.response.json();
  const maeve = site.browser();
  const choice = { code, password: 'gulls over the slipway', keep: false };
  site.setHours(73);
  expect((await maeve.send('POST', '/api/activations', choice)).status).toBe(401);
  site.setHours(71);
  expect((await maeve.send('POST', '/api/activations', choice)).status).toBe(201);
  expect((await maeve.get('/api/today')).status).toBe(200);
  expect((await site.browser().send('POST', '/api/activations', choice)).status).toBe(401);
});

test('of two uses of one code at once only one sets the password', async () => {
  const site = await aSite();
  const ines = site.browser();
  await ines.signIn();
  const person = { userName: 'jory', name: 'Jory', roles: ['lab'] };
  const { code } = await (await ines.send('POST', '/api/people', person)).response.json();
  const use = (chosen: string) =>
    site.browser().send('POST', '/api/activations', { code, password: chosen, keep: false });
  const answers = await Promise.all([use('a lee shore at night'), use('two reefs and a prayer')]);
  expect(answers.map(({ status }) => status).sort()).toEqual([201, 401]);
});

test('the demo’s accounts open with the password its page shows', async () => {
  const { isPassword } = await import('#api/auth/passwords.ts');
  expect(await isPassword(demoPasswordHash, demoPassword)).toBe(true);
});

test('a password is the same in either of the ways an accent can be written', async () => {
  const { isPassword } = await import('#api/auth/passwords.ts');
  const hash = await hashPassword('crème de la levure'.normalize('NFD'));
  expect(await isPassword(hash, 'crème de la levure'.normalize('NFC'))).toBe(true);
});
