import { type Client, createClient, type InStatement, LibsqlError } from '@libsql/client';
import { drizzle, type LibSQLDatabase } from 'drizzle-orm/libsql';
import { DomainError } from '#shared/errors.ts';
import * as schema from './schema/index.ts';

export type Query = LibSQLDatabase<typeof schema>;

export type Database = {
  /** Typed reads and statements; never used to write. */
  query: Query;
  /** One atomic write; calls are queued and run one at a time. */
  write: (statements: readonly InStatement[]) => Promise<void>;
  /** Runs `work` alone: nothing is written between what it reads and what it writes. */
  alone: <T>(work: (write: Write) => Promise<T>) => Promise<T>;
  execute: Client['execute'];
  close: () => Promise<void>;
};

export type Write = (statements: readonly InStatement[]) => Promise<void>;

// One connection, never shared with another process: the bundled engine loses writes otherwise.
const localPragmas = [
  'PRAGMA locking_mode = EXCLUSIVE',
  'PRAGMA journal_mode = WAL',
  'PRAGMA synchronous = FULL',
  'PRAGMA foreign_keys = ON',
  'PRAGMA trusted_schema = OFF',
  'PRAGMA cell_size_check = ON',
  'PRAGMA journal_size_limit = 67108864',
];

/**
 * Opens a database by URL: `file:…` for the embedded engine, `libsql://…` or `http(s)://…` for a
 * server. Nothing is migrated here.
 */
export async function openDatabase(url: string, authToken?: string): Promise<Database> {
  const isLocal = url.startsWith('file:') || url === ':memory:';
  const client = createClient({
    url,
    intMode: 'number',
    ...(isLocal ? { concurrency: 1, timeout: 2000 } : {}),
    ...(authToken === undefined ? {} : { authToken }),
  });
  const prepare = async () => {
    if (isLocal) for (const pragma of localPragmas) await client.execute(pragma);
  };
  try {
    await prepare();
  } catch (cause) {
    client.close();
    if (isBusy(cause))
      throw new DomainError('unavailable', 'This log is already open in another program.');
    throw cause;
  }

  // A statement that failed busy stays active on its connection and would swallow later writes:
  // only a fresh connection makes acknowledged writes real again.
  const writeOnce: Write = async (statements) => {
    try {
      await client.batch([...statements], 'write');
    } catch (error) {
      if (!isBusy(error)) throw error;
      await client.reconnect();
      await prepare();
      await retryBusy(() => client.batch([...statements], 'write'));
    }
  };
  const retryBusy = async (attempt: () => Promise<unknown>) => {
    try {
      await attempt();
    } catch (error) {
      if (!isBusy(error)) throw error;
      await client.reconnect();
      await prepare();
      throw new DomainError('unavailable', 'The log is busy; nothing was saved. Try again.');
    }
  };

  let tail: Promise<unknown> = Promise.resolve();
  const alone: Database['alone'] = (work) => {
    const result = tail.then(() => work(writeOnce));
    tail = result.catch(() => undefined);
    return result;
  };

  return {
    query: drizzle(client, { schema, casing: 'snake_case' }),
    write: (statements) => alone((write) => write(statements)),
    alone,
    execute: client.execute.bind(client),
    close: async () => {
      await tail;
      if (isLocal) await client.execute('PRAGMA wal_checkpoint(TRUNCATE)');
      client.close();
    },
  };
}

function isBusy(error: unknown): boolean {
  return error instanceof LibsqlError && error.code.startsWith('SQLITE_BUSY');
}
