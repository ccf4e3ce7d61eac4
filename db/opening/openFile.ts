import { createClient } from '@libsql/client';
import { drizzle } from 'drizzle-orm/libsql';
import { DomainError } from '#shared/errors.ts';
import type { Database, Write } from '../database.ts';
import { freeConnections } from '../freeConnections.ts';
import * as schema from '../schema/index.ts';
import { insertions, isTableRows } from '../tableRows.ts';
import { isBusy, stopRuleOf } from './stopRules.ts';
import { createWriteStops, type WriteStop, type WriteStops } from './writeStops.ts';

// One connection, never shared with another process: the bundled engine loses writes otherwise.
const pragmas = [
  'PRAGMA locking_mode = EXCLUSIVE',
  'PRAGMA journal_mode = WAL',
  'PRAGMA synchronous = FULL',
  'PRAGMA foreign_keys = ON',
  'PRAGMA trusted_schema = OFF',
  'PRAGMA cell_size_check = ON',
  'PRAGMA journal_size_limit = 67108864',
  // [KiB], negative: enough for all that the screens of the present read.
  'PRAGMA cache_size = -65536',
];

// The wait blocks the whole process, and no one else should ever hold the file.
const busyWaitMs = 100;
const renewals = 10;

/** Opens `file:…` or `:memory:` by the embedded engine. */
export async function openFile(url: string): Promise<Database> {
  const connection = await connected(url);
  const { client } = connection;
  const writeStops = createWriteStops();
  const { write, fault } = writingTo(connection, writeStops);
  const { alone, settled } = oneAtATime(write, writeStops);
  return {
    query: drizzle(client, { schema, casing: 'snake_case' }),
    write: (statements) => alone((writeAlone) => writeAlone(statements)),
    alone,
    execute: client.execute.bind(client),
    together: (statements) => client.batch([...statements], 'read'),
    writeStops,
    fault: () => writeStops.current() ?? fault(),
    isLocal: true,
    close: async () => {
      await settled();
      await client.execute('PRAGMA wal_checkpoint(TRUNCATE)');
      client.close();
      await freeConnections();
    },
  };
}

type Connection = Awaited<ReturnType<typeof connected>>;

async function connected(url: string) {
  const client = createClient({ url, intMode: 'number', concurrency: 1, timeout: busyWaitMs });
  const prepare = async () => {
    for (const pragma of pragmas) await client.execute(pragma);
  };
  try {
    await prepare();
  } catch (cause) {
    client.close();
    await freeConnections(cause);
    if (isBusy(cause))
      throw new DomainError('unavailable', 'This log is already open in another program.');
    throw cause;
  }

  // A statement that failed busy stays active on its connection and would swallow later writes:
  // only a fresh connection makes acknowledged writes real again. The old one holds the file's
  // lock until it is freed.
  const renew = async (cause: unknown) => {
    if (url === ':memory:') return;
    for (let left = renewals; ; left -= 1) {
      await client.reconnect();
      await freeConnections(cause);
      try {
        await prepare();
        return;
      } catch (error) {
        if (left === 0 || !isBusy(error)) throw error;
      }
    }
  };
  return { client, renew };
}

function writingTo({ client, renew }: Connection, writeStops: WriteStops) {
  let fault: WriteStop | undefined;
  const attempt: Write = async (parts) => {
    const statements = parts.flatMap((part) => (isTableRows(part) ? insertions(part) : [part]));
    try {
      await client.batch(statements, 'write');
    } catch (error) {
      if (!isBusy(error)) throw error;
      await renew(error);
      await client.batch(statements, 'write');
    }
  };
  const write: Write = async (parts) => {
    writeStops.refuse();
    try {
      await attempt(parts);
      fault = undefined;
    } catch (error) {
      const rule = stopRuleOf(error);
      if (rule === undefined) throw error;
      const { stop } = rule;
      fault = stop;
      if (rule.isFinal) writeStops.set('file', stop);
      // Where not even a fresh connection comes about, the next write fails and tells.
      else if (stop.code !== 'storage_full') await renew(error).catch(() => undefined);
      throw new DomainError(stop.code, stop.reason);
    }
  };
  return { write, fault: () => fault };
}

function oneAtATime(write: Write, writeStops: WriteStops) {
  let tail: Promise<unknown> = Promise.resolve();
  const alone: Database['alone'] = (work) => {
    const result = tail.then(() => {
      writeStops.refuse();
      return work(write);
    });
    // Whoever called is told; the next in the queue need not know.
    tail = result.catch(() => undefined);
    return result;
  };
  return { alone, settled: () => tail };
}
