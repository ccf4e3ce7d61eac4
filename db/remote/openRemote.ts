import { createClient, LibsqlError } from '@libsql/client';
import { drizzle } from 'drizzle-orm/libsql';
import { DomainError } from '#shared/errors.ts';
import type { Database, Write } from '../database.ts';
import * as schema from '../schema/index.ts';
import { StartRefusal } from '../startRefusal.ts';
import { createWriteStops, type WriteStop } from '../writeStops.ts';
import { remoteFetch, ServerFault } from './remoteFetch.ts';
import {
  aTurn,
  findingTurn,
  isTurnTaken,
  lastTurn,
  type Turn,
  TurnLost,
  takingTurn,
  turnTable,
} from './turns.ts';

export type RemoteLimits = {
  /** For one request, tries of reads and all [ms]. */
  withinMs: number;
  /** For one write, with looking whether it is there and trying it again [ms]. */
  writeWithinMs: number;
};

const usualLimits: RemoteLimits = { withinMs: 10_000, writeWithinMs: 20_000 };
const readTries = 3;
const writeTries = 4;
const turnsLost = 5;

/**
 * A log on a database server. Other programs may write to it too: each write is made only when
 * nothing was written since `alone` began, or `alone` looks again.
 * @throws StartRefusal when the server cannot be used, with a sentence that says why
 */
export async function openRemote(
  url: string,
  authToken: string | undefined,
  { withinMs, writeWithinMs }: RemoteLimits = usualLimits,
): Promise<Database> {
  const writeStops = createWriteStops();
  let fault: WriteStop | undefined;
  const report = (failed: ServerFault | undefined) => {
    fault = failed === undefined ? undefined : { code: 'unavailable', reason: failed.message };
  };
  const connected = (tries: number) =>
    createClient({
      url,
      intMode: 'number',
      fetch: remoteFetch({ withinMs, tries, report }),
      ...(authToken === undefined ? {} : { authToken }),
    });
  const reader = connected(readTries);
  const writer = connected(1);

  const isWritten = async (turn: Turn) => (await reader.execute(findingTurn(turn))).rows.length > 0;

  const send = async (statements: Parameters<Write>[0], turn: Turn): Promise<void> => {
    const batch = [...takingTurn(turn), ...statements];
    const untilMs = performance.now() + writeWithinMs;
    let isUndone = true;
    for (let tried = 1; ; tried += 1) {
      try {
        await writer.batch(batch, 'write');
        return;
      } catch (error) {
        if (isTurnTaken(error, turn)) {
          if (await isWritten(turn)) return;
          throw new TurnLost();
        }
        if (!isPassing(error)) throw stopOf(error) ?? error;
        if (error instanceof ServerFault && !error.isUndone) isUndone = false;
        const isLast = tried === writeTries || performance.now() > untilMs;
        await pause(isLast ? 0 : 100 * tried);
        // Unanswered is not undone: what is there already must not be sent again.
        if (!isUndone && (await isWritten(turn).catch(() => false))) return;
        if (isLast) throw isUndone ? (stopOf(error) ?? error) : unanswered();
      }
    }
  };

  let tail: Promise<unknown> = Promise.resolve();
  const queued = <T>(work: () => Promise<T>): Promise<T> => {
    const result = tail.then(() => {
      writeStops.refuse();
      return work();
    });
    tail = result.catch(() => undefined);
    return result;
  };

  // The last number seen here; when another is found, other programs write too.
  let ownNumber: number | undefined;
  let tookMs = 0;
  const attempt = async <T>(work: (write: Write) => Promise<T>): Promise<T> => {
    const beganMs = performance.now();
    let number = Number((await reader.execute(lastTurn)).rows[0]?.number);
    const isShared = ownNumber !== undefined && ownNumber !== number;
    try {
      return await work(async (statements) => {
        writeStops.refuse();
        await send(statements, aTurn(number + 1));
        number += 1;
      });
    } finally {
      ownNumber = number;
      // Whoever has just written lets others have their turn.
      tookMs = isShared ? performance.now() - beganMs : 0;
    }
  };
  const alone: Database['alone'] = (work) =>
    queued(async () => {
      if (tookMs > 0) await pause(Math.random() * 2 * Math.min(tookMs, 1_000));
      for (let lost = 0; ; lost += 1) {
        try {
          return await attempt(work);
        } catch (error) {
          if (!(error instanceof TurnLost)) throw error;
          if (lost === turnsLost)
            throw new DomainError(
              'unavailable',
              'Others are writing to this log without a break; nothing was saved. Try again.',
            );
          await pause(Math.random() * 20);
        }
      }
    });

  const close = async () => {
    await tail;
    reader.close();
    writer.close();
  };
  try {
    await refuseUnfit(reader);
    await writer.batch([turnTable], 'write');
  } catch (error) {
    await close();
    throw startRefusalOf(error);
  }

  return {
    query: drizzle(reader, { schema, casing: 'snake_case' }),
    write: (statements) => queued(() => send(statements, aTurn())),
    alone,
    execute: reader.execute.bind(reader),
    together: (statements) => reader.batch([...statements], 'read'),
    writeStops,
    fault: () => writeStops.current() ?? fault,
    isLocal: false,
    close,
  };
}

const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

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

/** Whether the same write may well succeed a little later. */
function isPassing(error: unknown): boolean {
  return (
    error instanceof ServerFault ||
    (error instanceof LibsqlError && error.code.startsWith('SQLITE_BUSY'))
  );
}

const unanswered = () =>
  new DomainError(
    'unanswered',
    'The database server did not answer. It may have been saved: look before you enter it again. What waits on a device is sent again by itself, and never saved twice.',
  );

function stopOf(error: unknown): DomainError | undefined {
  const code = error instanceof LibsqlError ? error.code : '';
  if (code.startsWith('SQLITE_BUSY'))
    return new DomainError(
      'unavailable',
      'The database server is busy; nothing was saved. Try again.',
    );
  if (code.startsWith('SQLITE_FULL'))
    return new DomainError(
      'storage_full',
      'The database server has no room; nothing was saved. Reading still works.',
    );
  return /^(SQLITE_READONLY|BLOCKED)/.test(code)
    ? new DomainError(
        'read_only',
        'The database server refuses to write; nothing was saved. Reading still works.',
      )
    : undefined;
}
