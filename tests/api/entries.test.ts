import { expect, test } from 'vitest';
import { authorHeader } from '#shared/authorHeader.ts';
import { aStrain, at, nextId } from '#tests/support/brewery.ts';
import { anApi } from '#tests/support/server.ts';

test('PUT /api/entries/{id} answers 201, then 200 to the same, then 409 to another body', async () => {
  const { put } = await anApi();
  const id = nextId();
  const first = await put(aStrain(), id);
  const again = await put(aStrain(), id);
  const other = await put(aStrain({ name: 'Skua' }), id);
  expect([first.status, again.status, other.status]).toEqual([201, 200, 409]);
  expect(await again.json()).toEqual(await first.json());
  expect(await other.json()).toMatchObject({ code: 'conflict', status: 409 });
});

test('a name with a character nobody sees is refused, and the problem names the field', async () => {
  const { put } = await anApi();
  const cases: [ReturnType<typeof aStrain>, string][] = [
    [aStrain({ name: 'Te\u200brn' }), 'name'],
    [aStrain({ by: 'Ma\u202eeve' }), 'by'],
  ];
  for (const [entry, path] of cases) {
    const answer = await put(entry);
    expect(answer.status).toBe(422);
    expect(await answer.json()).toMatchObject({
      code: 'invalid',
      errors: [{ path, message: expect.stringContaining('cannot be seen (U+20') }],
    });
  }
});

test('other facts under an id of one’s own are answered with what stands now', async () => {
  const { put } = await anApi();
  const [id, correction] = [nextId(), nextId()];
  await put(aStrain(), id);
  expect(await (await put(aStrain({ name: 'Skua' }), id)).json()).toMatchObject({
    code: 'conflict',
    current: { id, by: 'Ines', reason: null, body: aStrain() },
  });
  await put(
    { ...aStrain({ maxGenerations: 8 }), supersedes: id, reason: 'house rule' },
    correction,
  );
  expect(await (await put(aStrain({ name: 'Skua' }), id)).json()).toMatchObject({
    current: { id: correction, reason: 'house rule', body: { maxGenerations: 8 } },
  });
});

test('an id that someone else used is refused with the same words for any body, and no content', async () => {
  const { send, signIn, put, get } = await anApi();
  const id = nextId();
  await put(aStrain({ name: 'Kittiwake' }), id);
  const tom = await signIn('tom', 'head');
  for (const body of [aStrain({ name: 'Kittiwake' }), aStrain({ name: 'Skua' })]) {
    const answer = await send('PUT', `/api/entries/${id}`, body, tom);
    const text = await answer.text();
    expect(answer.status).toBe(409);
    expect(text).toContain('Someone else wrote an entry under this id');
    expect(text).not.toMatch(/Kittiwake|Ines|current/);
  }
  expect(await (await get('/api/entries')).json()).toMatchObject({
    items: [{ id, enteredBy: { name: 'Ines' } }],
  });
});

test('an entry that names its author is taken from that account alone', async () => {
  const { request, signIn, get } = await anApi();
  const [ines, tom] = [await signIn('ines', 'head'), await signIn('tom', 'head')];
  const [id, body] = [nextId(), JSON.stringify(aStrain())];
  const headers = { 'content-type': 'application/json', [authorHeader]: ines.accountId };
  const send = (as: typeof ines) =>
    request(`/api/entries/${id}`, { method: 'PUT', headers, body }, as);
  const refused = await send(tom);
  expect(refused.status).toBe(403);
  expect(await refused.json()).toMatchObject({ code: 'other_author' });
  expect(await (await get('/api/entries')).json()).toMatchObject({ items: [] });
  expect((await send(ines)).status).toBe(201);
});

test('PUT /api/entries/{id} answers 422 naming each field and what was expected', async () => {
  const { put } = await anApi();
  const response = await put({ ...aStrain(), code: 'too long', rateMillionPerMlPerPlato: -1 });
  expect(response.status).toBe(422);
  expect(response.headers.get('content-type')).toBe('application/problem+json; charset=utf-8');
  expect(await response.json()).toMatchObject({
    code: 'invalid',
    errors: expect.arrayContaining([
      {
        path: 'rateMillionPerMlPerPlato',
        message:
          'Pitching rate must be a number above 0 and at most 10 million cells per mL per °P',
      },
      { path: 'code', message: 'Short code must be text of 1 to 4 characters' },
    ]),
  });
});

test.each([
  ['an unknown kind', { kind: 'brew', happenedAt: at(0), by: 'Ines' }, 'kind'],
  ['an unknown field', { ...aStrain(), colour: 'brown' }, 'colour'],
  ['no time', { ...aStrain(), happenedAt: undefined }, 'happenedAt'],
  [
    'a local time without offset',
    { ...aStrain(), happenedAt: '2026-03-02T08:00:00' },
    'happenedAt',
  ],
  ['a blank name', { ...aStrain(), name: '  ' }, 'name'],
  ['a NUL in a text', { ...aStrain(), name: 'a\u0000b' }, 'name'],
  ['a lone surrogate', { ...aStrain(), name: 'a\ud800b' }, 'name'],
  ['a reason without a correction', { ...aStrain(), reason: 'why not' }, 'reason'],
  ['a band upside down', { ...aStrain(), tempLowC: 25 }, 'tempHighC'],
  ['a time in the future', { ...aStrain(), happenedAt: at(1) }, 'happenedAt'],
])('PUT /api/entries/{id} refuses %s by field', async (_what, entry, path) => {
  const { put, get } = await anApi();
  const response = await put(entry);
  expect(response.status).toBe(422);
  const problem: { errors: { path: string }[] } = await response.json();
  expect(problem.errors.map((error) => error.path)).toContain(path);
  expect(await (await get('/api/entries')).json()).toEqual({ items: [], next: null });
});

test.each([
  ['not JSON', '{"kind":', 'application/json', 400],
  ['another type', '{}', 'text/plain', 415],
  ['invalid UTF-8', new Uint8Array([123, 34, 255, 34, 125]), 'application/json', 400],
  ['a body nested deep', '['.repeat(30_000), 'application/json', 400],
  ['a body over the limit', `"${'x'.repeat(70_000)}"`, 'application/json', 413],
])('PUT /api/entries/{id} answers %s with a problem', async (_what, body, type, status) => {
  const { request } = await anApi();
  const response = await request(`/api/entries/${nextId()}`, {
    method: 'PUT',
    headers: { 'content-type': type },
    body,
  });
  expect(response.status).toBe(status);
  expect(response.headers.get('content-type')).toContain('application/problem+json');
});

test('PUT /api/entries/{id} wants a version 7 UUID', async () => {
  const { put } = await anApi();
  const response = await put(aStrain(), '6f1c1f0e-98a5-4c36-9df1-2f1f0c1e7d11');
  expect(response.status).toBe(422);
  expect(await response.json()).toMatchObject({ errors: [{ path: 'id' }] });
});

test('GET /api/strains pages from the newest', async () => {
  const { put, get } = await anApi();
  for (const code of ['A', 'B', 'C']) await put(aStrain({ code, name: `Strain ${code}` }));
  const first: { items: { code: string }[]; next: number } = await (
    await get('/api/strains?limit=2')
  ).json();
  expect(first.items.map((strain) => strain.code)).toEqual(['C', 'B']);
  const second = await (await get(`/api/strains?limit=2&before=${first.next}`)).json();
  expect(second).toMatchObject({ items: [{ code: 'A', corrected: false }], next: null });
});

test('GET /api/records/{id}/history keeps the old value, who and why', async () => {
  const { put, get } = await anApi();
  const id = nextId();
  await put(aStrain(), id);
  await put({
    ...aStrain({ maxGenerations: 8 }),
    by: 'Tom',
    supersedes: id,
    reason: 'new house rule',
  });
  const history = await (await get(`/api/records/${id}/history`)).json();
  expect(history).toMatchObject({
    items: [
      { by: 'Ines', reason: null, body: { maxGenerations: 10 } },
      { by: 'Tom', reason: 'new house rule', supersedes: id, body: { maxGenerations: 8 } },
    ],
  });
});

test('a query that is not understood names its key', async () => {
  const { get } = await anApi();
  for (const [query, path] of [
    ['limit=0', 'limit'],
    ['limit=abc', 'limit'],
    ['page=2', 'page'],
    ['limit=1&limit=2', 'limit'],
  ]) {
    const response = await get(`/api/lots?${query}`);
    expect(response.status, query).toBe(422);
    expect(await response.json()).toMatchObject({ errors: [{ path }] });
  }
});

test('GET /api/records/{id}/history tells who wrote an entry down besides who did it', async () => {
  const { send, signIn, get } = await anApi();
  const id = nextId();
  const tom = await signIn('tom', 'head');
  await send('PUT', `/api/entries/${id}`, aStrain(), tom);
  expect(await (await get(`/api/records/${id}/history`)).json()).toMatchObject({
    items: [{ by: 'Ines', enteredBy: { via: 'web', name: 'Tom' } }],
  });
});
