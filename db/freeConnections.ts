import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

let collect: (() => void) | undefined;

/**
 * Frees connections that were closed: the driver keeps a closed connection, its file and its lock
 * until the garbage collector has run, so it is made to run.
 */
export async function freeConnections(): Promise<void> {
  collect ??= collector();
  collect();
  await new Promise((resolve) => setTimeout(resolve, 0));
  collect();
}

function collector(): () => void {
  setFlagsFromString('--expose-gc');
  return runInNewContext('gc');
}
