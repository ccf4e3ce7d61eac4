import { rmSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { type Client, createClient, LibsqlError } from '@libsql/client';
import { freeConnections } from '../freeConnections.ts';
import { StartRefusal } from './startRefusal.ts';

// A lock that is no longer referred to would be freed, and given up.
const held = new Set<Client>();

/**
 * Keeps every other program of ours from this log, by a small locked file beside it: the lock on
 * the log itself can be lost when anything else in this process opens and closes it.
 * @throws StartRefusal when another program holds it, or the folder cannot be written
 */
export async function lockInstance(file: string, nowMs: number): Promise<() => Promise<void>> {
  const lockFile = `${file}.lock`;
  const client = await locked(lockFile, nowMs).catch((error: unknown) => {
    if (!(error instanceof LibsqlError && error.code === 'SQLITE_NOTADB')) throw error;
    rmSync(lockFile);
    return locked(lockFile, nowMs);
  });
  held.add(client);
  return async () => {
    held.delete(client);
    client.close();
    await freeConnections();
  };
}

async function locked(lockFile: string, nowMs: number): Promise<Client> {
  let client: Client | undefined;
  try {
    client = createClient({ url: pathToFileURL(lockFile).href, concurrency: 1, timeout: 100 });
    await client.execute('PRAGMA locking_mode = EXCLUSIVE');
    await client.batch(
      [
        'CREATE TABLE IF NOT EXISTS holder (pid INTEGER, since_ms INTEGER)',
        'DELETE FROM holder',
        { sql: 'INSERT INTO holder VALUES (?, ?)', args: [process.pid, nowMs] },
      ],
      'write',
    );
    return client;
  } catch (error) {
    client?.close();
    await freeConnections(error);
    throw refusalOf(error, lockFile) ?? error;
  }
}

function refusalOf(error: unknown, lockFile: string): StartRefusal | undefined {
  const code = error instanceof LibsqlError ? error.code : '';
  if (code === 'SQLITE_NOTADB') return undefined;
  return code.startsWith('SQLITE_BUSY')
    ? new StartRefusal(
        'running',
        'This log is already open: Barmbook is running on it. Stop that one first.',
      )
    : new StartRefusal('unusable', `The folder of the log cannot be written (${lockFile}).`);
}
