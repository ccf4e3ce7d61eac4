import fc from 'fast-check';
import { beforeAll, expect, test } from 'vitest';
import type { RouteDoc } from '#api/apiDocument.ts';
import { apiRoutes } from '#api/app.ts';
import { verifyChain } from '#db/journal/chain.ts';
import { projectionDump, rebuild } from '#db/safety/upkeep.ts';
import { nextId } from '#tests/support/brewery.ts';
import { fromSchema, mutated } from '#tests/support/fromSchema.ts';
import { anApi } from '#tests/support/server.ts';

const isFull = process.env.FAULTS === 'full';
/** The one way to write gets most. */
const runsOf = (row: RouteDoc) => (row.path === '/api/entries/{id}' ? 200 : 40) * (isFull ? 20 : 1);
const slowestMs = 5_000;
// Printed with every failure; another seed is another test.
const seed = Number(process.env.FUZZ_SEED ?? 20_260_302);

let api: Awaited<ReturnType<typeof anApi>>;
let strainId: string;
let fermentId: string;
let lotId: string;
let vesselId: string;

// A little of a brewery for bodies to name, so that not all stop at the first reference.
beforeAll(async () => {
  api = await anApi();
  api.setHours(1);
  const write = async (entry: Record<string, unknown>) => {
    const response = await api.put({ happenedAt: '2026-03-02T08:30:00Z', by: 'Ines', ...entry });
    const { id }: { id: string } = await response.json();
    return id;
  };
  const policy = { rateMillionPerMlPerPlato: 0.75, tempLowC: 15, tempHighC: 22, leadTimeDays: 14 };
  const limits = { maxGenerations: 10, maxStorageDays: 4, storeLowC: 1, storeHighC: 4 };
  strainId = await write({
    kind: 'strain',
    name: 'Tern',
    code: 'TN',
    crops: 'top',
    ...policy,
    ...limits,
    minViabilityPercent: 90,
    staleCountHours: 24,
  });
  vesselId = await write({ kind: 'vessel', name: 'FV1' });
  lotId = await write({
    kind: 'freshCulture',
    strainId,
    origin: 'bought',
    generation: 0,
    amountL: 20,
  });
  fermentId = await write({
    kind: 'ferment',
    gyle: '412',
    beer: 'Headland Bitter',
    vesselId,
    strainId,
    volumeL: 1600,
    originalGravitySg: 1.04,
  });
  await write({ kind: 'pitch', fermentId, lotId, amountL: 5 });
});

/** References lead to records that are there as often as to none. */
const placed = (body: unknown): unknown =>
  JSON.parse(
    JSON.stringify(body, (name, value: unknown) => {
      const known: Record<string, string> = { strainId, fermentId, lotId, vesselId };
      if (name === 'happenedAt' && typeof value === 'string') return '2026-03-02T08:45:00Z';
      return typeof value === 'string' && value < '8' ? (known[name] ?? value) : value;
    }),
  );

const withBody = apiRoutes.filter(
  ({ request, who, path }) =>
    // Signing in waits for its throttle; its tests are beside it.
    request !== undefined &&
    who !== 'device' &&
    !/session|first-account|activations|password/.test(path),
);

async function answerTo(row: RouteDoc, body: unknown) {
  const text = JSON.stringify(body) ?? '';
  const began = performance.now();
  const response = await api.request(row.path.replace('{id}', nextId()), {
    method: row.method.toUpperCase(),
    headers: { 'content-type': 'application/json' },
    body: text,
  });
  const answer = await response.text();
  return { status: response.status, answer, text, ms: performance.now() - began };
}

const count = (seen: ReadonlyMap<number, number>, which: (status: number) => boolean) =>
  [...seen].reduce((sum, [status, times]) => sum + (which(status) ? times : 0), 0);

const entriesNow = async () =>
  (await api.database.execute('SELECT count(*) AS n FROM journal')).rows[0]?.n;

test.each(withBody.map((row) => [`${row.method.toUpperCase()} ${row.path}`, row] as const))(
  '%s takes bodies of its schema and twisted ones without failing',
  { timeout: 600_000 },
  async (name, row) => {
    const bodies = fromSchema(row.request ?? {}).map(placed);
    const either = fc.oneof(bodies, bodies.chain(mutated));
    const seen = new Map<number, number>();
    await fc.assert(
      fc.asyncProperty(either, async (body) => {
        const before = await entriesNow();
        const { status, answer, text, ms } = await answerTo(row, body);
        seen.set(status, (seen.get(status) ?? 0) + 1);
        const about = `${name} ${status} ${answer.slice(0, 300)} to ${text.slice(0, 600)}`;
        expect([200, 201, 400, 401, 403, 404, 409, 413, 422], about).toContain(status);
        expect(ms, about).toBeLessThan(slowestMs);
        if (status >= 400) expect(await entriesNow(), about).toBe(before);
      }),
      { numRuns: runsOf(row), seed },
    );
    // Some came through and some did not, so that neither half tests nothing.
    const [taken, refused] = [
      count(seen, (status) => status < 300),
      count(seen, (status) => status >= 400),
    ];
    expect(refused).toBeGreaterThan(0);
    if (row.path === '/api/entries/{id}') expect(taken).toBeGreaterThan(10);
  },
);

test('after all of it the chain is whole, the references hold and a rebuild changes nothing', async () => {
  expect(await verifyChain(api.database)).toMatchObject({ sound: true });
  expect((await api.database.execute('PRAGMA foreign_key_check')).rows).toEqual([]);
  const before = await projectionDump(api.database);
  await rebuild(api.database);
  expect(await projectionDump(api.database)).toEqual(before);
  const { rows } = await api.database.execute(
    'SELECT code FROM lot WHERE id IN (SELECT parent_id FROM lot_parent WHERE lot_id = parent_id)',
  );
  expect(rows).toEqual([]);
});
