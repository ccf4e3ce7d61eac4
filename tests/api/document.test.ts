import { expect, test } from 'vitest';
import { apiRoutes } from '#api/app.ts';
import { recordSchemas } from '#shared/entries/entry.ts';
import { nextId } from '#tests/support/brewery.ts';
import { anApi } from '#tests/support/server.ts';

test('every route is in the document, and nothing else is', async () => {
  const { app } = await anApi();
  const served = app.routes
    .filter((route) => route.method !== 'ALL')
    .map((route) => `${route.method} ${route.path.replace(/:(\w+)/g, '{$1}')}`);
  const told = apiRoutes.map((route) => `${route.method.toUpperCase()} ${route.path}`);
  expect(new Set(told)).toEqual(new Set(served));
  expect(told.length).toBeGreaterThan(35);
});

test('GET /api/openapi.json answers an OpenAPI 3.1 document with a schema per kind of entry', async () => {
  const { get } = await anApi();
  const document = await (await get('/api/openapi.json')).json();
  expect(document.openapi).toBe('3.1.0');
  const body = document.paths['/api/entries/{id}'].put.requestBody.content['application/json'];
  const kinds = body.schema.oneOf.map(
    (schema: { properties: { kind: { const: string } } }) => schema.properties.kind.const,
  );
  expect(kinds).toContain('crop');
  expect(new Set(kinds)).toEqual(new Set([...Object.keys(recordSchemas), 'void']));
});

test.each(['/api/docs', '/healthz', '/readyz'])(
  'GET %s answers 200 with a strict policy',
  async (path) => {
    const { get } = await anApi();
    const response = await get(path);
    expect(response.status).toBe(200);
    expect(response.headers.get('content-security-policy')).toContain("script-src 'self'");
    expect(response.headers.get('cache-control')).toBe('no-store');
  },
);

test('each calculation example in the document is answered with 200', async () => {
  const { post } = await anApi();
  const examples = apiRoutes.filter((route) => route.tag === 'Calculations');
  expect(examples.length).toBeGreaterThanOrEqual(4);
  for (const { path, example } of examples)
    expect((await post(path, example)).status, path).toBe(200);
});

test('the document tells the keys of a query with their types', async () => {
  const { get } = await anApi();
  const { paths } = await (await get('/api/openapi.json')).json();
  const keysOf = (path: string) =>
    paths[path].get.parameters.map(({ name, required, schema }: QueryParameter) => [
      name,
      schema.type,
      required,
    ]);
  expect(keysOf('/api/trace')).toEqual([
    ['of', 'string', true],
    ['limit', 'integer', false],
    ['after', 'integer', false],
  ]);
  expect(keysOf('/api/trace/search')).toEqual([['q', 'string', true]]);
  expect(keysOf('/api/lots')).toEqual([
    ['limit', 'integer', false],
    ['before', 'integer', false],
    ['site', 'string', false],
  ]);
});

test('a key the document does not name is refused, and each it names is described', async () => {
  const { get } = await anApi();
  const { paths } = await (await get('/api/openapi.json')).json();
  const routes = apiRoutes.filter(({ query, who }) => query !== undefined && who !== 'feed key');
  expect(routes.length).toBeGreaterThan(30);
  for (const { path } of routes) {
    const response = await get(`${path.replace('{id}', nextId())}?nonesuch=1`);
    expect(response.status, path).toBe(422);
    expect((await response.json()).errors.at(-1).path).toBe('nonesuch');
    const parameters: QueryParameter[] = paths[path].get.parameters;
    for (const { name, description } of parameters.filter((each) => each.in === 'query'))
      expect(description, `${path} ${name}`).toMatch(/\w \w/);
  }
});

test('the bounds of a number in the document are those the route holds to', async () => {
  const { get } = await anApi();
  const { paths } = await (await get('/api/openapi.json')).json();
  const parameters: QueryParameter[] = paths['/api/plan'].get.parameters;
  const { minimum, maximum } = parameters.find(({ name }) => name === 'days')?.schema ?? {};
  expect([minimum, maximum]).toEqual([1, 90]);
  const statusOf = async (days: number) => (await get(`/api/plan?days=${days}`)).status;
  expect([await statusOf(1), await statusOf(90)]).toEqual([200, 200]);
  expect([await statusOf(0), await statusOf(91)]).toEqual([422, 422]);
});

type QueryParameter = {
  name: string;
  in: 'path' | 'query';
  required: boolean;
  description?: string;
  schema: { type: string; minimum?: number; maximum?: number };
};
