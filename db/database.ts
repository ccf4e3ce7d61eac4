import {
  type Client,
  createClient,
  type InStatement,
  LibsqlError,
  type ResultSet,
} from '@libsql/client';
import { drizzle, type LibSQLDatabase } from 'drizzle-orm/libsql';
import { DomainError } from '#shared/errors.ts';
import { freeConnections } from './freeConnections.ts';
import { createWriteStops, type WriteStop, type WriteStops } from './opening/writeStops.ts';
import { openRemote } from './remote/openRemote.ts';
import * as schema from './schema/index.ts';

export type Query = LibSQLDatabase<typeof schema>;

export type Database = {
  /** Typed reads and statements; never used to write. */
  query: Query;
  /** One atomic write; calls are queued and run one at a time. */
  write: Write;
  /**
   * Runs `work` alone: nothing is written between what it reads and what it writes. On a server it
   * is run again when another program wrote meanwhile.
   */
  alone: <T>(work: (write: Write) => Promise<T>) => Promise<T>;
  execute: Client['execute'];
  /** Reads that all see the log as of one moment. */
  together: (statements: readonly InStatement[]) => Promise<ResultSet[]>;
  /** Set by whoever finds that nothing must be written; refused writes leave no trace. */
  writeStops: WriteStops;
  /** Why the last write failed, when the storage was at fault; a write that succeeds clears it. */
  fault: () => WriteStop | undefined;
  isLocal: boolean;
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
  // [KiB], negative: enough for all that the screens of the present read.
  'PRAGMA cache_size = -65536',
];

// The wait blocks the whole process, and no one else should ever hold the file.
const busyWaitMs = 100;
const renewals = 10;

/**
 * Opens a database by URL: `file:…` for the embedded engine, `libsql://…` or `http(s)://…` for a
 * server. Nothing is migrated here.
 */
export async function openDatabase(url: string, authToken?: string): Promise<Database> {
  const isMemory = url === ':memory:';
  if (!isMemory && !url.startsWith('file:')) return openRemote(url, authToken);
  const client = createClient({ url, intMode: 'number', concurrency: 1, timeout: busyWaitMs });
  const prepare = async () => {
    for (const pragma of localPragmas) await client.execute(pragma);
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

  const writeStops = createWriteStops();
  let fault: WriteStop | undefined;

  // A statement that failed busy stays active on its connection and would swallow later writes:
  // only a fresh connection makes acknowledged writes real again. The old one holds the file's
  // lock until it is freed.
  const renew = async (cause: unknown) => {
    if (isMemory) return;
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
  const attempt: Write = async (statements) => {
    try {
      await client.batch([...statements], 'write');
    } catch (error) {
      if (!isBusy(error)) throw error;
      await renew(error);
      await client.batch([...statements], 'write');
    }
  };
  const write: Write = async (statements) => {
    writeStops.refuse();
    try {
      await attempt(statements);
      fault = undefined;
    } catch (error) {
      const rule = stopRuleOf(error);
      if (rule === undefined) throw error;
      const { stop } = rule;
      fault = stop;
      if (rule.isFinal) writeStops.set('file', stop);
      else if (stop.code !== 'storage_full') await renew(error).catch(() => undefined);
      throw new DomainError(stop.code, stop.reason);
    }
  };

  let tail: Promise<unknown> = Promise.resolve();
  const alone: Database['alone'] = (work) => {
    const result = tail.then(() => {
      writeStops.refuse();
      return work(write);
    });
    tail = result.catch(() => undefined);
    return result;
  };

  return {
    query: drizzle(client, { schema, casing: 'snake_case' }),
    write: (statements) => alone((writeAlone) => writeAlone(statements)),
    alone,
    execute: client.execute.bind(client),
    together: (statements) => client.batch([...statements], 'read'),
    writeStops,
    fault: () => writeStops.current() ?? fault,
    isLocal: true,
    close: async () => {
      await tail;
      await client.execute('PRAGMA wal_checkpoint(TRUNCATE)');
      client.close();
      await freeConnections();
    },
  };
}

type StopRule = { codes: RegExp; stop: WriteStop; isFinal: boolean };

const stopRules: readonly StopRule[] = [
  {
    codes: /^SQLITE_BUSY/,
    stop: { code: 'unavailable', reason: 'The log is busy; nothing was saved. Try again.' },
    isFinal: false,
  },
  {
    codes: /^SQLITE_FULL/,
    stop: {
      code: 'storage_full',
      reason: 'The disk of the log is full; nothing was saved. Reading still works.',
    },
    isFinal: false,
  },
  {
    codes: /^SQLITE_(READONLY|IOERR|CANTOPEN)/,
    stop: {
      code: 'read_only',
      reason: 'The file of the log cannot be written; nothing was saved. Reading still works.',
    },
    isFinal: false,
  },
  {
    codes: /^SQLITE_(CORRUPT|NOTADB)/,
    stop: {
      code: 'read_only',
      reason: 'The file of the log is damaged: nothing more is written to it. Restore a backup.',
    },
    isFinal: true,
  },
];

function stopRuleOf(error: unknown): StopRule | undefined {
  return error instanceof LibsqlError
    ? stopRules.find(({ codes }) => codes.test(error.code))
    : undefined;
}

function isBusy(error: unknown): boolean {
  return error instanceof LibsqlError && error.code.startsWith('SQLITE_BUSY');
}
