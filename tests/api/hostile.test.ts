import { beforeAll, expect, test } from 'vitest';
import { jsonSchema, type RouteDoc } from '#api/apiDocument.ts';
import { apiRoutes } from '#api/app.ts';
import { nextId } from '#tests/support/brewery.ts';
import { anApi } from '#tests/support/server.ts';

// Reading these is the whole of their work; the import's own limit is 2 MiB.
const withBody = apiRoutes.filter(({ request, who }) => request !== undefined && who !== 'device');
const isImport = ({ path }: RouteDoc) => path.startsWith('/api/imports') && !path.endsWith('undo');

let api: Awaited<ReturnType<typeof anApi>>;
beforeAll(async () => {
  api = await anApi();
});

/** Every table but those that count attempts and note refusals. */
async function stateNow(): Promise<string> {
  const counts = [];
  for (const table of ['journal', 'strain', 'account', 'account_role', 'device_token', 'feed_key'])
    counts.push((await api.database.execute(`SELECT count(*) AS n FROM ${table}`)).rows[0]?.n);
  return JSON.stringify(counts);
}

async function answerTo(
  row: RouteDoc,
  body: string | Uint8Array<ArrayBuffer>,
  headers: Record<string, string> = {},
) {
  const response = await api.request(row.path.replace(/\{\w+\}/g, nextId()), {
    method: row.method.toUpperCase(),
    headers: { 'content-type': 'application/json', ...headers },
    body,
  });
  const text = await response.text();
  return { status: response.status, text, type: response.headers.get('content-type') };
}

const valid = '{"kind":"vessel","happenedAt":"2026-03-02T08:00:00Z","by":"Ines","name":"FV1"}';
const bytes = (...parts: (string | number[])[]) =>
  new Uint8Array(Buffer.concat(parts.map((part) => Buffer.from(part))));

const bodies: [string, string | Uint8Array<ArrayBuffer>, Record<string, string>, number[]][] = [
  ['nothing', '', {}, [400]],
  ['half of it', valid.slice(0, 40), {}, [400]],
  ['two of it', `${valid}${valid}`, {}, [400]],
  ['a byte order mark', bytes([0xef, 0xbb, 0xbf], valid), {}, [400]],
  ['invalid UTF-8', bytes('{"name":"', [0xff, 0xfe], '"}'), {}, [400]],
  ['UTF-16', new Uint8Array(Buffer.from(valid, 'utf16le')), {}, [400]],
  ['13 deep', `${'['.repeat(13)}${']'.repeat(13)}`, {}, [400]],
  ['30,000 deep', '['.repeat(30_000), {}, [400]],
  ['5,001 nodes', `[${'1,'.repeat(5_001)}1]`, {}, [400]],
  ['a key given twice', '{"name":"FV1","name":"FV2"}', {}, [400]],
  ['a key given twice in two ways', '{"name":"FV1","n\\u0061me":"FV2"}', {}, [400]],
  ['__proto__', '{"__proto__":{"kind":"vessel"},"kind":"vessel"}', {}, [400]],
  ['a number too large', '{"kind":"reading","gravitySg":1e400}', {}, [422]],
  ['a list', '[]', {}, [422]],
  ['null', 'null', {}, [422]],
  ['a number', '12', {}, [422]],
  ['an unknown field', '{"surplus":1}', {}, [422]],
  ['gzip', new Uint8Array([31, 139, 8, 0, 0, 0, 0, 0]), { 'content-encoding': 'gzip' }, [415]],
  ['plain text', valid, { 'content-type': 'text/plain' }, [415]],
  ['another JSON', valid, { 'content-type': 'application/problem+json' }, [415]],
  ['another charset', valid, { 'content-type': 'application/json; charset=utf-16' }, [415]],
];

test.each(bodies)(
  '%s is refused by every route in plain words, and nothing is written',
  {
    timeout: 120_000,
  },
  async (_what, body, headers, statuses) => {
    const before = await stateNow();
    expect(withBody.length).toBeGreaterThan(15);
    for (const row of withBody) {
      const began = performance.now();
      const { status, text, type } = await answerTo(row, body, headers);
      expect(performance.now() - began, row.path).toBeLessThan(1_500);
      expect(statuses, `${row.path} ${text.slice(0, 200)}`).toContain(status);
      expect(type).toContain('application/problem+json');
      expect(text, row.path).not.toMatch(/node_modules|\.ts:|SQLITE|at Object|stack/i);
    }
    expect(await stateNow()).toBe(before);
  },
);

test('a byte over the limit is too large for every route', async () => {
  const before = await stateNow();
  for (const row of withBody) {
    const limit = isImport(row) ? 2 * 1024 * 1024 : 64 * 1024;
    const { status } = await answerTo(row, `"${'x'.repeat(limit - 1)}"`);
    expect(status, row.path).toBe(413);
  }
  expect(await stateNow()).toBe(before);
});

test.each([
  ['a NUL', '"a\\u0000b"'],
  ['a lone surrogate', '"a\\ud800b"'],
  ['an escape', '"a\\u001bb"'],
  ['blanks', '"   "'],
  ['an empty text', '""'],
])('%s in a text is refused and not mended', async (_what, name) => {
  const row = apiRoutes.find(({ path }) => path === '/api/entries/{id}');
  if (row === undefined) throw new Error('There is no route for entries.');
  const before = await stateNow();
  expect((await answerTo(row, valid.replace('"FV1"', name))).status).toBe(422);
  expect(await stateNow()).toBe(before);
});

const queries = [
  'limit=1&limit=2',
  'limit=',
  'limit=-1',
  'limit=1e9',
  'limit=0x10',
  'before=9007199254740993',
  'surplus=1',
  '__proto__=1',
  'limit[]=1',
  'limit=%00',
  'limit=%ff',
];
test('a query that is not understood is refused by every list', async () => {
  const lists = apiRoutes.filter(
    ({ query }) => query !== undefined && 'before' in Object(jsonSchema(query).properties),
  );
  expect(lists.length).toBeGreaterThan(15);
  for (const { path } of lists)
    for (const query of queries)
      expect((await api.get(`${path}?${query}`)).status, `${path}?${query}`).toBe(422);
});

test('no id, however odd, makes a route fail', async () => {
  const reads = apiRoutes.filter(({ method, path }) => method === 'get' && /\{\w+\}/.test(path));
  expect(reads.length).toBeGreaterThan(5);
  const ids = [
    '%00',
    '%ff',
    '..%2f..%2fetc',
    "';--",
    'x'.repeat(2_000),
    '%F0%9F%8D%BA',
    '-1',
    '%25',
  ];
  for (const { path } of reads)
    for (const id of ids) {
      const { status } = await api.get(path.replace(/\{\w+\}/g, id));
      expect([200, 400, 404, 422], `${path} ${id} ${status}`).toContain(status);
    }
});
