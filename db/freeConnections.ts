import { setFlagsFromString } from 'node:v8';
import { runInNewContext } from 'node:vm';

let collect: (() => void) | undefined;

/**
 * Frees connections that were closed: the driver keeps a closed connection, its file and its lock
 * until the garbage collector has run, so it is made to run. An error that came from the connection
 * keeps it too, for its stack, until that is written out.
 */
export async function freeConnections(error?: unknown): Promise<void> {
  writeOutStack(error);
  collect ??= collector();
  collect();
  await new Promise((resolve) => setImmediate(resolve));
  collect();
  await new Promise((resolve) => setImmediate(resolve));
}

function writeOutStack(error: unknown): void {
  for (let each = error; each instanceof Error; each = each.cause) void each.stack;
}

function collector(): () => void {
  setFlagsFromString('--expose-gc');
  return runInNewContext('gc');
}
