import { expect, test } from 'vitest';
import type { RouteDoc } from '#api/apiDocument.ts';
import { apiRoutes, createApp } from '#api/app.ts';
import { assertComplete, routeTable } from '#api/auth/gate.ts';
import { sha256 } from '#db/journal/hash.ts';
import { type Role, roles } from '#shared/roles.ts';
import { nextId } from '#tests/support/brewery.ts';
import { anApi, ownOrigin } from '#tests/support/server.ts';

const someId = '0195502c-0000-7000-8000-000000000001';
const pathOf = (row: RouteDoc) => row.path.replace(/\{\w+\}/g, someId);
const admitted = (status: number, code: string) =>
  status !== 401 && status !== 421 && !(status === 403 && code !== 'prove_again');

/** Everyone who may come: nobody, each role, and those who were let in once. */
async function callers() {
  const api = await anApi();
  const { database } = api;
  const asRole = Object.fromEntries(
    await Promise.all(roles.map(async (role) => [role, await api.signIn(role, role)] as const)),
  );
  const closed = await api.signIn('closed', 'head');
  await database.write([
    {
      sql: 'UPDATE account SET disabled_ms = 1 WHERE id = ?',
      args: [closed.accountId],
    },
  ]);
  const expired = await api.signIn('expired', 'head');
  await database.write([
    {
      sql: 'UPDATE session SET expires_ms = created_ms + 1 WHERE id = ?',
      args: [expired.sessionId],
    },
  ]);
  const secret = 's'.repeat(43);
  await database.write([
    {
      sql: `INSERT INTO device_token (id, sensor, secret_sha256, created_by, created_ms)
            VALUES ('float001', 'Float', ?, ?, 1)`,
      args: [sha256(secret), closed.accountId],
    },
    {
      sql: 'INSERT INTO feed_key (id, account_id, key_sha256, created_ms) VALUES (?, ?, ?, 1)',
      args: [nextId(), asRole.viewer?.accountId ?? '', sha256(secret)],
    },
  ]);
  api.setHours(1);
  return { api, asRole, closed, expired, secret };
}

type Told = { status: number; code: string };
const told = async (response: Response): Promise<Told> => {
  const text = await response.text();
  const code = /"code":"(\w+)"/.exec(text)?.[1] ?? '';
  return { status: response.status, code };
};

test('every route lets in exactly those its row names', async () => {
  const { api, asRole, closed, expired, secret } = await callers();
  const wrong: string[] = [];
  let asked = 0;
  for (const row of apiRoutes) {
    const method = row.method.toUpperCase();
    const ask = async (who: string, headers: Record<string, string>, isExpected: boolean) => {
      asked += 1;
      const response = await api.app.request(pathOf(row), {
        method,
        headers: { origin: ownOrigin, ...headers },
      });
      const { status, code } = await told(response);
      if (admitted(status, code) !== isExpected || status === 500)
        wrong.push(`${who}: ${method} ${row.path} answered ${status} ${code}`);
    };
    const isOpen = row.who === 'anyone';
    for (const role of roles) {
      // Signing out ends the session it is asked with.
      const { cookie } =
        row.method === 'delete' ? await api.signIn(role, role) : (asRole[role] ?? { cookie: '' });
      await ask(role, { cookie }, isOpen || (Array.isArray(row.who) && row.who.includes(role)));
    }
    await ask('nobody', {}, isOpen);
    await ask('closed', { cookie: closed.cookie }, isOpen);
    await ask('expired', { cookie: expired.cookie }, isOpen);
    await ask('unknown', { cookie: `barm=${'x'.repeat(43)}` }, isOpen);
    const bearer = { authorization: `Bearer barm_float001_${secret}` };
    await ask('device', bearer, isOpen || row.who === 'device');
  }
  expect(wrong).toEqual([]);
  expect(asked).toBe(apiRoutes.length * 10);
}, 240_000);

test('whoever is not signed in can reach these routes and no others', () => {
  const open = apiRoutes.filter(({ who }) => who === 'anyone').map(({ path }) => path);
  const expected = [
    /^\/api\/calculations\//,
    /^\/api\/(session|first-account|activations|passphrase)$/,
    /^\/api\/(openapi\.json|docs|docs\.css|problems)$/,
    /^\/(healthz|readyz)$/,
  ];
  expect(open.filter((path) => !expected.some((pattern) => pattern.test(path)))).toEqual([]);
  expect(open.length).toBeGreaterThan(12);
});

test('a viewer can change nothing but their own account and session', () => {
  const changes = apiRoutes.filter(
    ({ method, who }) => method !== 'get' && Array.isArray(who) && who.includes('viewer'),
  );
  expect(
    changes.filter(({ path }) => !/^\/api\/(account\/|session)/.test(path)).map(({ path }) => path),
  ).toEqual([]);
});

test.each<[string, Role[]]>([
  ['/api/people', ['head']],
  ['/api/device-tokens', ['head']],
  ['/api/security-events', ['head']],
])('%s is for the head brewer alone', (path, expected) => {
  const rows = apiRoutes.filter((row) => row.path.startsWith(path));
  expect(rows.length).toBeGreaterThan(0);
  for (const row of rows) expect(row.who, `${row.method} ${row.path}`).toEqual(expected);
});

test('a route that no row names keeps the server from starting', async () => {
  const { app, database } = await anApi();
  const told = routeTable(apiRoutes.filter(({ path }) => path !== '/api/today'));
  expect(() => assertComplete(app.routes, told)).toThrow('GET /api/today');
  expect(() => createApp({ database, now: Date.now })).not.toThrow();
});

test('the document and its page tell who may call each route', async () => {
  const { get } = await anApi();
  const document = await (await get('/api/openapi.json')).json();
  expect(document.paths['/api/people'].post['x-who']).toBe('Signed in as head');
  expect(document.paths['/api/today'].get['x-who']).toBe('Everyone signed in');
  expect(document.paths['/healthz'].get.security).toEqual([]);
  const page = await (await get('/api/docs')).text();
  expect(page).toContain('Signed in as head');
  expect(page).toContain('<td><code>crop</code></td><td>cellar, lab, brewer, head</td>');
});

test('an address of the interface that is not served is not found, signed in or not', async () => {
  const { app, get } = await anApi();
  expect((await get('/api/nothing')).status).toBe(404);
  expect((await app.request('/api/nothing')).status).toBe(404);
});
