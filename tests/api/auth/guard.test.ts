import { once } from 'node:events';
import { connect } from 'node:net';
import { serve } from '@hono/node-server';
import { afterAll, beforeAll, expect, test } from 'vitest';
import { createApp } from '#api/app.ts';
import { ownHosts } from '#api/auth/hosts.ts';
import { serverLimits } from '#api/guard.ts';
import type { Database } from '#db/database.ts';
import { aStrain, at, freshDatabase, nextId, storyStartMs } from '#tests/support/brewery.ts';
import { aSession } from '#tests/support/signedIn.ts';

let database: Database;
let cookie: string;
let port: number;
let close: () => Promise<void>;
beforeAll(async () => {
  database = await freshDatabase();
  ({ cookie } = await aSession(database, { userName: 'ines', roles: ['head'] }));
  const app = createApp({ database, now: () => storyStartMs });
  const server = serve({
    fetch: app.fetch,
    port: 0,
    hostname: '127.0.0.1',
    serverOptions: { ...serverLimits.options },
  });
  await once(server, 'listening');
  const address = server.address();
  port = typeof address === 'object' && address !== null ? address.port : 0;
  cookie = cookie.replace('barm=', `barm-${port}=`);
  close = () => new Promise((resolve) => server.close(() => resolve()));
});
afterAll(() => close());

/** A request byte by byte as given; what came back until the server closed. */
async function raw(lines: readonly string[], body = ''): Promise<string> {
  const socket = connect(port, '127.0.0.1');
  socket.setTimeout(5_000, () => socket.destroy());
  let answer = '';
  socket.on('data', (part) => {
    answer += part;
  });
  socket.on('error', () => undefined);
  socket.write(`${[...lines, 'Connection: close'].join('\r\n')}\r\n\r\n${body}`);
  await once(socket, 'close');
  return answer;
}

const statusOf = (answer: string) => Number(/^HTTP\/1\.1 (\d+)/.exec(answer)?.[1]);
const entry = JSON.stringify(aStrain({ happenedAt: at(0) }));

async function put(headers: readonly string[], body = entry) {
  const answer = await raw(
    [
      `PUT /api/entries/${nextId()} HTTP/1.1`,
      `Cookie: ${cookie}`,
      `Content-Length: ${Buffer.byteLength(body)}`,
      ...headers,
    ],
    body,
  );
  return statusOf(answer);
}
const own = () => [`Host: 127.0.0.1:${port}`, `Origin: http://127.0.0.1:${port}`];
const json = 'Content-Type: application/json';

const written = async () =>
  (await database.execute('SELECT count(*) AS n FROM journal')).rows[0]?.n;

test.each<[string, (port: number) => string[], number]>([
  ['a foreign name', (p) => [`Host: evil.example:${p}`, `Origin: http://evil.example:${p}`], 421],
  ['an empty name', (p) => ['Host: ', `Origin: http://127.0.0.1:${p}`], 421],
  // Node's own parser refuses this one.
  ['no name that is one', (p) => ['Host: a b', `Origin: http://127.0.0.1:${p}`], 400],
  [
    'two names',
    (p) => [`Host: 127.0.0.1:${p}`, `Host: evil.example`, `Origin: http://127.0.0.1:${p}`],
    421,
  ],
  ['no origin', (p) => [`Host: 127.0.0.1:${p}`], 403],
  ['no origin that is one', (p) => [`Host: 127.0.0.1:${p}`, 'Origin: null'], 403],
  [
    'the origin of another site',
    (p) => [`Host: 127.0.0.1:${p}`, 'Origin: http://evil.example'],
    403,
  ],
  [
    'the origin of another port',
    (p) => [`Host: 127.0.0.1:${p}`, 'Origin: http://127.0.0.1:1'],
    403,
  ],
  [
    'a page of another site, as the browser says',
    (p) => [`Host: 127.0.0.1:${p}`, `Origin: http://127.0.0.1:${p}`, 'Sec-Fetch-Site: cross-site'],
    403,
  ],
])('a change under %s is refused and nothing written', async (_what, headers, status) => {
  expect(await put([...headers(port), json])).toBe(status);
  expect(await written()).toBe(0);
});

test.each(['text/plain', 'application/x-www-form-urlencoded', 'multipart/form-data; boundary=x'])(
  'a change as %s, which a form could send, is refused',
  async (type) => {
    expect(await put([...own(), `Content-Type: ${type}`])).toBe(415);
    expect(await written()).toBe(0);
  },
);

test('reading is refused under a foreign name too, and a device may not bring a cookie', async () => {
  const foreign = await raw(['GET /api/today HTTP/1.1', 'Host: evil.example', `Cookie: ${cookie}`]);
  expect(statusOf(foreign)).toBe(421);
  const page = await raw(['GET / HTTP/1.1', 'Host: evil.example']);
  expect(statusOf(page)).toBe(421);
  const device = await raw([
    'POST /api/readings HTTP/1.1',
    `Host: 127.0.0.1:${port}`,
    `Cookie: ${cookie}`,
    'Content-Length: 0',
  ]);
  expect(statusOf(device)).toBe(401);
});

test('a body told in two ways, and one cut short, are refused', async () => {
  const twoWays = await raw(
    [
      `PUT /api/entries/${nextId()} HTTP/1.1`,
      ...own(),
      json,
      `Cookie: ${cookie}`,
      'Content-Length: 5',
      'Transfer-Encoding: chunked',
    ],
    `${entry.length.toString(16)}\r\n${entry}\r\n0\r\n\r\n`,
  );
  expect(statusOf(twoWays)).toBe(400);
  expect(await written()).toBe(0);
});

test('a body over the limit is refused, told beforehand or in chunks', async () => {
  const long = `"${'x'.repeat(70_000)}"`;
  expect(await put([...own(), json], long)).toBe(413);
  const chunked = await raw(
    [
      `PUT /api/entries/${nextId()} HTTP/1.1`,
      ...own(),
      json,
      `Cookie: ${cookie}`,
      'Transfer-Encoding: chunked',
    ],
    `${long.length.toString(16)}\r\n${long}\r\n0\r\n\r\n`,
  );
  expect(statusOf(chunked)).toBe(413);
  expect(await written()).toBe(0);
});

test('the same change from a page of this address is written', async () => {
  expect(await put([...own(), json, 'Sec-Fetch-Site: same-origin'])).toBe(201);
  expect(await written()).toBe(1);
});

test('ownHosts() knows this machine’s names and those it was told, whatever their port', () => {
  const isOwn = ownHosts(['barmbook.brewery.example']);
  for (const host of ['localhost', 'LOCALHOST:4180', '127.0.0.1:80', '[::1]:4180', '[::1]'])
    expect(isOwn(host), host).toBe(true);
  expect(isOwn('barmbook.brewery.example:8080')).toBe(true);
  for (const host of ['', 'evil.example', 'localhost.evil.example', '8.8.8.8', 'localhost:x', '@'])
    expect(isOwn(host), host).toBe(false);
});

test('every answer carries the headers that bind the browser', async () => {
  const answer = await raw(['GET /api/today HTTP/1.1', `Host: 127.0.0.1:${port}`]);
  expect(statusOf(answer)).toBe(401);
  for (const header of [
    "content-security-policy: default-src 'none'; script-src 'self'",
    'x-content-type-options: nosniff',
    'referrer-policy: no-referrer',
    'permissions-policy: camera=(self), geolocation=(), microphone=()',
    'cache-control: no-store',
  ])
    expect(answer.toLowerCase()).toContain(header);
  expect(answer.toLowerCase()).not.toMatch(/access-control|x-powered-by|strict-transport/);
});
