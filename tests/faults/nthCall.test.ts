import { pathToFileURL } from 'node:url';
import { afterAll, expect, test, vi } from 'vitest';
import { createApp } from '#api/app.ts';
import { openDatabase } from '#db/database.ts';
import { migrate } from '#db/migrate.ts';
import { projectionDump } from '#db/safety/upkeep.ts';
import { hourMs } from '#shared/durations.ts';
import type { Entry } from '#shared/entries/entry.ts';
import { asHead } from './asHead.ts';
import { aFolder, aSeed, newId } from './rig.ts';

type Fault = { code: string; atCall: number; calls: number; hits: number; reconnects: number };
const { fault } = vi.hoisted(() => {
  const fault: Fault = { code: '', atCall: 0, calls: 0, hits: 0, reconnects: 0 };
  return { fault };
});

// The driver itself fails: what the product does about it is the product's own code.
vi.mock('@libsql/client', async (importOriginal) => {
  const actual = await importOriginal<typeof import('@libsql/client')>();
  const failing = () => {
    fault.calls += 1;
    if (fault.code === '' || fault.calls !== fault.atCall) return;
    fault.hits += 1;
    throw new actual.LibsqlError(`${fault.code}: made to fail`, fault.code);
  };
  const createClient: typeof actual.createClient = (config) => {
    const client = actual.createClient(config);
    return new Proxy(client, {
      get(target, name) {
        const value: unknown = Reflect.get(target, name);
        if (typeof value !== 'function') return value;
        return async (...given: unknown[]) => {
          if (name === 'execute' || name === 'batch') failing();
          if (name === 'reconnect') fault.reconnects += 1;
          return value.apply(target, given);
        };
      },
    });
  };
  return { ...actual, createClient };
});

const folder = await aFolder();
afterAll(() => folder.remove());

async function anApp() {
  const database = await openDatabase(pathToFileURL(folder.file).href);
  await migrate(database, Date.now());
  const app = createApp({ database, now: Date.now });
  const send = await asHead(app, database);
  const put = (entry: Entry | Record<string, unknown>, id = newId()) =>
    send('PUT', `/api/entries/${id}`, entry);
  const stateNow = async () => {
    const { rows } = await database.execute('SELECT count(*) AS entries FROM journal');
    return JSON.stringify([rows[0]?.entries, await projectionDump(database)]);
  };
  return { database, put, stateNow, get: (path: string) => send('GET', path) };
}

const api = await anApp();
const seed = await aSeed(api);
const by = 'Ines';
const happenedAt = new Date(Date.now() - hourMs).toISOString();
const made = async (entry: Entry) => String((await api.put(entry)).body.id);

/** Each gives a fresh valid entry of its sort, resting on records of its own where it must. */
const mutations: Record<string, () => Promise<Entry>> = {
  'a record': async () => ({ kind: 'vessel', happenedAt, by, name: `V${newId().slice(-8)}` }),
  'an amount taken': async () => ({
    kind: 'discard',
    happenedAt,
    by,
    lotId: seed.lotId,
    amountL: 0.01,
    why: 'drain',
  }),
  'a pitch': async () => ({
    kind: 'pitch',
    happenedAt,
    by,
    fermentId: seed.fermentId,
    lotId: seed.lotId,
    amountL: 0.01,
  }),
  'a crop': async () => ({
    kind: 'crop',
    happenedAt,
    by,
    fermentId: seed.fermentId,
    cut: 'skim 2',
    amountKg: 4,
  }),
  'a correction': async () => {
    const facts = { kind: 'reading', happenedAt, by, fermentId: seed.fermentId } as const;
    const supersedes = await made({ ...facts, gravitySg: 1.03 });
    return { ...facts, gravitySg: 1.02, supersedes, reason: 'misread' };
  },
  'a void': async () => {
    const supersedes = await made({
      kind: 'storeReading',
      happenedAt,
      by,
      lotId: seed.lotId,
      tempC: 3,
    });
    return { kind: 'void', happenedAt, by, supersedes, reason: 'wrong lot' };
  },
};
const codes = ['SQLITE_BUSY', 'SQLITE_FULL', 'SQLITE_IOERR', 'SQLITE_CORRUPT', 'SQLITE_READONLY'];
const mostCalls = 200;

// Before or after, never between: an answer of 201 means all of it is there, anything else nothing.
test.each(
  codes.flatMap((code) => Object.keys(mutations).map((mutation) => [code, mutation] as const)),
)(
  '%s at each call in turn of %s: all of it or nothing, and the next request works',
  async (code, mutation) => {
    let failed = 0;
    let hit = 0;
    for (let atCall = 1; atCall <= mostCalls; atCall += 1) {
      const entry = await mutations[mutation]?.();
      if (entry === undefined) throw new Error('There is no such mutation.');
      const id = newId();
      const before = await api.stateNow();
      const reconnectsBefore = fault.reconnects;
      Object.assign(fault, { code, atCall, calls: 0, hits: 0 });
      const { status } = await api.put(entry, id);
      fault.code = '';
      const { calls } = fault;
      const isHit = fault.hits > 0;
      if (isHit) hit += 1;
      if (isHit && status !== 201) {
        failed += 1;
        expect(status).toBeGreaterThanOrEqual(500);
        expect(await api.stateNow()).toBe(before);
      } else {
        expect(status).toBe(201);
        if (isHit && code === 'SQLITE_BUSY')
          expect(fault.reconnects).toBeGreaterThan(reconnectsBefore);
      }
      // Damage stops writing for good; here it was only played.
      api.database.writeStops.set('file', undefined);
      expect((await api.put(entry, id)).status).toBe(status === 201 ? 200 : 201);
      if (!isHit) {
        expect(hit).toBe(calls);
        break;
      }
    }
    // Each call of a request nothing disturbed was made to fail once: the session, what the entry
    // rests on, and the write at least.
    expect(hit).toBeGreaterThan(3);
    expect(failed).toBeGreaterThan(1);
  },
);

test('damage found while writing stops writing for good, and reading goes on', async () => {
  const entry = await mutations['a record']?.();
  const batchCall = 1;
  Object.assign(fault, { code: 'SQLITE_CORRUPT', atCall: batchCall, calls: 0, hits: 0 });
  await expect(api.database.write(['UPDATE instance SET created_ms = 0'])).rejects.toMatchObject({
    code: 'read_only',
  });
  fault.code = '';
  const refused = await api.put(entry ?? {});
  expect(refused).toMatchObject({ status: 503, body: { code: 'read_only' } });
  expect((await api.get('/api/entries')).status).toBe(200);
  api.database.writeStops.set('file', undefined);
});
