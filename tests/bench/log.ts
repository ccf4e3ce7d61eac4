import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createApp } from '#api/app.ts';
import { type Database, openDatabase } from '#db/database.ts';
import { migrate } from '#db/migrate.ts';
import { minuteMs } from '#shared/durations.ts';
import { uuidV7 } from '#shared/uuid.ts';
import { aSession } from '#tests/support/signedIn.ts';
import { loadLog } from './loadLog.ts';
import { recordedStatements } from './recordedStatements.ts';
import { type Shape, syntheticLog } from './syntheticLog.ts';
import { medians, ratio } from './timing.ts';

/** The moment all logs end at: the last brews are running, their crops in store. */
const endMs = Date.UTC(2026, 10, 25, 8);
const weeksPerYear = 52;
const runs = 9;

const oneBrewery = (years: number): Shape => ({
  sites: 1,
  weeks: weeksPerYear * years,
  chains: 3,
  readingsPerFerment: 33,
  generations: 12,
});
/** About 156,000 ferments and 5 million readings. */
const fiftySites: Shape = { ...oneBrewery(20), sites: 50 };
/** 100,000 lots and ferments, all of one fresh culture. */
const oneFamily: Shape = {
  sites: 1,
  weeks: 500,
  chains: 100,
  readingsPerFerment: 0,
  generations: Number.POSITIVE_INFINITY,
};

const statements = recordedStatements();

/** Prints how the log fares as it grows, as ratios to bare SQL on the same file. */
export async function benchLog({ isFull }: { isFull: boolean }): Promise<void> {
  const sizes: [string, Shape][] = [
    ['1 year', oneBrewery(1)],
    ['5 years', oneBrewery(5)],
    ['20 years', oneBrewery(20)],
    ...(isFull ? [['20 years, 50 sites', fiftySites] satisfies [string, Shape]] : []),
  ];
  const screens: Record<string, Record<string, number>> = {};
  for (const [name, shape] of sizes)
    await withLog(shape, async (log) => {
      console.log(`\n${name}: ${log.entries} entries, ${log.megabytes} MB`);
      screens[name] = await benchScreens(log);
    });
  growth(screens);
  await withLog(oneBrewery(1), benchWrites);
  await withLog(oneFamily, benchTrace);
}

type Log = {
  database: Database;
  entries: number;
  megabytes: string;
  get: (path: string) => Promise<Response>;
  put: (id: string, entry: unknown) => Promise<Response>;
};

async function withLog<T>(shape: Shape, work: (log: Log) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'barmbook-bench-'));
  const file = join(folder, 'log.db');
  const database = await openDatabase(`file:${file}`);
  try {
    await migrate(database, endMs);
    const entries = await loadLog(database, syntheticLog(shape, endMs));
    await database.execute('PRAGMA wal_checkpoint(TRUNCATE)');
    const { size } = await stat(file);
    const app = createApp({ database, now: () => endMs });
    const { cookie } = await aSession(database, { userName: 'ines', roles: ['head'], atMs: endMs });
    const headers = { cookie, origin: 'http://localhost' };
    return await work({
      database,
      entries,
      megabytes: (size / 1e6).toFixed(0),
      get: async (path) => {
        const response = await app.request(path, { headers });
        await response.arrayBuffer();
        return response;
      },
      put: async (id, entry) =>
        app.request(`/api/entries/${id}`, {
          method: 'PUT',
          headers: { ...headers, 'content-type': 'application/json' },
          body: JSON.stringify(entry),
        }),
    });
  } finally {
    await database.close();
    await rm(folder, { recursive: true, force: true });
  }
}

async function benchScreens(log: Log): Promise<Record<string, number>> {
  const newest = async (table: string) =>
    (await log.database.execute(`SELECT id FROM ${table} ORDER BY seq DESC LIMIT 1`)).rows[0]?.id;
  const lot = await newest('lot');
  const ferment = await newest('ferment');
  const { rows } = await log.database.execute('SELECT line_id FROM lot ORDER BY seq DESC LIMIT 1');
  const paths = [
    '/api/today',
    '/api/lots/in-store',
    `/api/lots/${lot}/standing`,
    '/api/ferments/current',
    `/api/ferments/${ferment}/standing`,
    '/api/lines',
    `/api/lines/${rows[0]?.line_id}`,
    '/api/plan',
    '/api/setup',
    `/api/trace?of=${lot}`,
  ];
  const times: Record<string, number> = {};
  const table: Record<string, Record<string, string | number>> = {};
  for (const path of paths) {
    const name = path.replace(/[0-9a-f-]{36}/, '…');
    const ask = async () => {
      const response = await log.get(path);
      if (response.status !== 200) throw new Error(`${path} answered ${response.status}`);
    };
    await ask();
    const sent = await statements.during(ask);
    const [apiMs, sqlMs] = await medians(runs, ask, async () => {
      for (const { replay } of sent) await replay();
    });
    times[name] = apiMs;
    table[name] = {
      statements: sent.length,
      'SQL ms': sqlMs.toFixed(1),
      'API ms': apiMs.toFixed(1),
      'API : SQL': ratio(apiMs / sqlMs),
    };
  }
  console.table(table);
  return times;
}

function growth(screens: Record<string, Record<string, number>>): void {
  const [base, ...others] = Object.keys(screens);
  if (base === undefined) return;
  console.log(`\nTime of each screen against a log of ${base}`);
  const table: Record<string, Record<string, string>> = {};
  for (const [path, ms] of Object.entries(screens[base] ?? {}))
    table[path] = Object.fromEntries(
      others.map((name) => [name, ratio((screens[name]?.[path] ?? Number.NaN) / ms)]),
    );
  console.table(table);
}

/** Entries a second through the interface, against the same rows inserted bare, as durably. */
async function benchWrites({ database, put }: Log): Promise<void> {
  const { rows } = await database.execute('SELECT id FROM ferment ORDER BY seq DESC LIMIT 1');
  const fermentId = rows[0]?.id;
  const random = new Uint8Array(10);
  let serial = 0;
  const entry = () => ({
    kind: 'reading',
    happenedAt: new Date(endMs - minuteMs).toISOString(),
    by: 'Ines',
    fermentId,
    gravitySg: 1.02,
  });
  const nextId = () => {
    serial += 1;
    new DataView(random.buffer).setUint32(4, serial);
    return uuidV7(endMs, random);
  };
  await database.write([
    'CREATE TABLE bare_journal AS SELECT * FROM journal WHERE 0',
    'CREATE TABLE bare_reading AS SELECT * FROM reading WHERE 0',
  ]);
  const bare = () =>
    database.write([
      'INSERT INTO bare_journal SELECT * FROM journal ORDER BY seq DESC LIMIT 1',
      'INSERT INTO bare_reading SELECT * FROM reading ORDER BY seq DESC LIMIT 1',
    ]);
  const [apiMs, bareMs] = await medians(
    200,
    async () => {
      const response = await put(nextId(), entry());
      if (response.status !== 201) throw new Error(`A reading was answered ${response.status}`);
    },
    bare,
  );
  console.log('\nOne reading written, durable when answered');
  console.table({
    reading: {
      'bare insert ms': bareMs.toFixed(2),
      'API ms': apiMs.toFixed(2),
      'API : bare': ratio(apiMs / bareMs),
      'entries per second': (1000 / apiMs).toFixed(0),
    },
  });
}

async function benchTrace({ database, get, entries }: Log): Promise<void> {
  const { rows } = await database.execute(
    "SELECT id FROM lot WHERE kind = 'freshCulture' ORDER BY seq LIMIT 1",
  );
  const source = rows[0]?.id;
  const ask = async () => {
    const response = await get(`/api/trace?of=${source}`);
    if (response.status !== 200) throw new Error(`The trace answered ${response.status}`);
  };
  // The least that names the whole family: one walk down, by recursion.
  const bare = () =>
    database.execute({
      sql: `WITH RECURSIVE down (id) AS (
              SELECT ? UNION SELECT pitch.ferment_id FROM down JOIN pitch ON pitch.lot_id = down.id
              UNION SELECT lot.id FROM down JOIN lot ON lot.ferment_id = down.id
            )
            SELECT down.id, lot.code, ferment.gyle FROM down
            LEFT JOIN lot ON lot.id = down.id LEFT JOIN ferment ON ferment.id = down.id`,
      args: [String(source)],
    });
  const [apiMs, sqlMs] = await medians(3, ask, bare);
  console.log(
    `\nThe whole family of one fresh culture: 100,000 lots and ferments (${entries} entries)`,
  );
  console.table({
    trace: {
      'recursive SQL ms': sqlMs.toFixed(0),
      'API ms': apiMs.toFixed(0),
      'API : SQL': ratio(apiMs / sqlMs),
    },
  });
}
