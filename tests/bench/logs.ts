import { mkdtemp, rm, stat } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import { createApp } from '#api/app.ts';
import { type Database, openDatabase } from '#db/database.ts';
import { migrate } from '#db/migrate.ts';
import { aSession } from '#tests/support/signedIn.ts';
import { loadLog } from './loadLog.ts';
import { type Shape, syntheticLog } from './syntheticLog.ts';

/** The moment all logs end at: the last brews are running, their crops in store. */
export const endMs = Date.UTC(2026, 10, 25, 8);
const weeksPerYear = 52;

export const oneBrewery = (years: number): Shape => ({
  sites: 1,
  weeks: weeksPerYear * years,
  chains: 3,
  readingsPerFerment: 33,
  generations: 12,
});
/** About 156,000 ferments and 5 million readings. */
export const fiftySites: Shape = { ...oneBrewery(20), sites: 50 };
/** 100,000 lots and ferments, all of one fresh culture. */
export const oneFamily: Shape = {
  sites: 1,
  weeks: 500,
  chains: 100,
  readingsPerFerment: 0,
  generations: Number.POSITIVE_INFINITY,
};

export type Log = {
  database: Database;
  /** How many entries, and how large the file is. */
  size: string;
  get: (path: string) => Promise<void>;
  put: (id: string, entry: unknown) => Promise<Response>;
  one: (sql: string) => Promise<string>;
};

/** Works on an invented log in a file of its own, signed in, at the moment it ends. */
export async function withLog<T>(shape: Shape, work: (log: Log) => Promise<T>): Promise<T> {
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
      size: `${entries.toLocaleString('en')} entries, ${(size / 1e6).toFixed(0)} MB`,
      get: async (path) => {
        const response = await app.request(path, { headers });
        await response.arrayBuffer();
        if (response.status !== 200) throw new Error(`${path} answered ${response.status}`);
      },
      put: async (id, entry) =>
        app.request(`/api/entries/${id}`, {
          method: 'PUT',
          headers: { ...headers, 'content-type': 'application/json' },
          body: JSON.stringify(entry),
        }),
      one: async (sql) => String((await database.execute(sql)).rows[0]?.[0]),
    });
  } finally {
    await database.close();
    await rm(folder, { recursive: true, force: true });
  }
}
