import { createClient } from '@libsql/client';
import { drizzle } from 'drizzle-orm/libsql';
import type { Database } from '../database.ts';
import { StartRefusal } from '../opening/startRefusal.ts';
import { createWriteStops, type WriteStop } from '../opening/writeStops.ts';
import * as schema from '../schema/index.ts';
import { remoteFetch, type ServerFault } from './remoteFetch.ts';
import { sendingAll } from './sendAll.ts';
import { sendingOnce } from './sendOnce.ts';
import { stage, stagingTable } from './staging.ts';
import { turnTable } from './turns.ts';
import { writingInTurn } from './writingInTurn.ts';

type RemoteLimits = {
  /** For one request, tries of reads and all [ms]. */
  withinMs: number;
  /** For one write, with looking whether it is there and trying it again [ms]. */
  writeWithinMs: number;
  /** For one write that takes up what was put by before: a whole log, it may be [ms]. */
  loadWithinMs?: number;
};

const usualLimits = { withinMs: 10_000, writeWithinMs: 20_000, loadWithinMs: 180_000 };
const readTries = 3;

/**
 * A log on a database server. Other programs may write to it too: each write is made only when
 * nothing was written since `alone` began, or `alone` looks again.
 * @throws StartRefusal when the server cannot be used, with a sentence that says why
 */
export async function openRemote(
  url: string,
  authToken: string | undefined,
  limits: RemoteLimits = usualLimits,
): Promise<Database> {
  const { withinMs, writeWithinMs, loadWithinMs } = { ...usualLimits, ...limits };
  const writeStops = createWriteStops();
  let fault: WriteStop | undefined;
  const report = (failed: ServerFault | undefined) => {
    fault = failed === undefined ? undefined : { code: 'unavailable', reason: failed.message };
  };
  const connected = (tries: number, eachMs = withinMs) =>
    createClient({
      url,
      intMode: 'number',
      fetch: remoteFetch({ withinMs: eachMs, tries, report }),
      ...(authToken === undefined ? {} : { authToken }),
    });
  const reader = connected(readTries);
  const writer = connected(1);
  const loader = connected(1, loadWithinMs);

  const send = sendingAll({
    stage: (loads) => stage(writer, loads),
    send: sendingOnce({ reader, writer, withinMs: writeWithinMs }),
    sendLoad: sendingOnce({ reader, writer: loader, withinMs: loadWithinMs }),
  });
  const { write, alone, settled } = writingInTurn({ reader, send, writeStops });

  const close = async () => {
    await settled();
    reader.close();
    writer.close();
    loader.close();
  };
  try {
    await refuseUnfit(reader);
    // Made once, however often it is asked for.
    await reader.batch([turnTable, stagingTable], 'write');
  } catch (error) {
    await close();
    throw startRefusalOf(error);
  }

  return {
    query: drizzle(reader, { schema, casing: 'snake_case' }),
    write,
    alone,
    execute: reader.execute.bind(reader),
    together: (statements) => reader.batch([...statements], 'read'),
    writeStops,
    fault: () => writeStops.current() ?? fault,
    isLocal: false,
    close,
  };
}

async function refuseUnfit(client: Pick<Database, 'execute'>): Promise<void> {
  const { rows } = await client.execute('PRAGMA foreign_keys');
  if (Number(Object.values(rows[0] ?? {})[0]) !== 1)
    throw new StartRefusal(
      'unusable',
      'The database server does not keep references whole (foreign_keys is off). Use one that does.',
    );
}

function startRefusalOf(error: unknown): StartRefusal {
  if (error instanceof StartRefusal) return error;
  const why = error instanceof Error ? error.message : String(error);
  return new StartRefusal('unusable', `The log on the database server cannot be opened. ${why}`);
}
