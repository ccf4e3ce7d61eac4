import { type DBSchema, type IDBPDatabase, openDB } from 'idb';
import type { WaitingEntry } from './waitingEntry.ts';

/** An answer of the server, kept for when it cannot be reached. */
type KeptAnswer = { path: string; atMs: number; body: string };

interface Stores extends DBSchema {
  waiting: { key: number; value: WaitingEntry; indexes: { id: string } };
  answers: { key: string; value: KeptAnswer; indexes: { atMs: number } };
}

let opened: Promise<IDBPDatabase<Stores>> | undefined;

function open(): Promise<IDBPDatabase<Stores>> {
  opened ??= openDB<Stores>('barmbook', 1, {
    upgrade: (store) => {
      const waiting = store.createObjectStore('waiting', { keyPath: 'seq' });
      waiting.createIndex('id', 'id', { unique: true });
      store.createObjectStore('answers', { keyPath: 'path' }).createIndex('atMs', 'atMs');
    },
    // A later version in another tab must not wait for this one.
    blocking: (_now, _next, event) => {
      if (event.target instanceof IDBDatabase) event.target.close();
      opened = undefined;
    },
    terminated: () => {
      opened = undefined;
    },
  });
  return opened;
}

/** Works on the store of this device; a connection the browser dropped is opened once more. */
export async function withStore<T>(work: (store: IDBPDatabase<Stores>) => Promise<T>): Promise<T> {
  try {
    return await work(await open());
  } catch (error) {
    if (!(error instanceof DOMException) || !lostConnection.has(error.name)) throw error;
    opened = undefined;
    return work(await open());
  }
}

const lostConnection = new Set(['InvalidStateError', 'UnknownError', 'AbortError']);
