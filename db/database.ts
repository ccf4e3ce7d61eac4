import type { Client, InStatement, ResultSet } from '@libsql/client';
import type { LibSQLDatabase } from 'drizzle-orm/libsql';
import { openFile } from './opening/openFile.ts';
import type { WriteStop, WriteStops } from './opening/writeStops.ts';
import { openRemote } from './remote/openRemote.ts';
import type * as schema from './schema/index.ts';
import type { TableRows } from './tableRows.ts';

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

export type Write = (statements: readonly (InStatement | TableRows)[]) => Promise<void>;

/**
 * Opens a database by URL: `file:…` for the embedded engine, `libsql://…` or `http(s)://…` for a
 * server. Nothing is migrated here.
 */
export async function openDatabase(url: string, authToken?: string): Promise<Database> {
  const isLocal = url === ':memory:' || url.startsWith('file:');
  return isLocal ? openFile(url) : openRemote(url, authToken);
}
