import type { Client } from '@libsql/client';
import { DomainError } from '#shared/errors.ts';
import type { Database, Write } from '../database.ts';
import type { WriteStops } from '../opening/writeStops.ts';
import { pause } from './sendOnce.ts';
import { aTurn, lastTurn, type Turn, TurnLost } from './turns.ts';

const mostLost = 5;
const longestPauseMs = 2_000;

/** One write at a time from here, and each after what other programs wrote. */
export function writingInTurn({
  reader,
  send,
  writeStops,
}: {
  reader: Client;
  send: (statements: Parameters<Write>[0], turn: Turn) => Promise<void>;
  writeStops: WriteStops;
}): Pick<Database, 'write' | 'alone'> & { settled: () => Promise<unknown> } {
  let tail: Promise<unknown> = Promise.resolve();
  const queued = <T>(work: () => Promise<T>): Promise<T> => {
    const result = tail.then(() => {
      writeStops.refuse();
      return work();
    });
    tail = result.catch(() => undefined);
    return result;
  };

  // The last number taken here; when another is found, other programs write too.
  let ownNumber: number | undefined;
  let sharedMs = 0;
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
      sharedMs = isShared ? performance.now() - beganMs : 0;
    }
  };

  const untilUndisturbed = async <T>(work: (write: Write) => Promise<T>): Promise<T> => {
    // Whoever has just written lets the others have their turn.
    if (sharedMs > 0) await pause(Math.random() * Math.min(2 * sharedMs, longestPauseMs));
    for (let lost = 0; ; lost += 1) {
      try {
        return await attempt(work);
      } catch (error) {
        if (!(error instanceof TurnLost)) throw error;
        if (lost === mostLost)
          throw new DomainError(
            'unavailable',
            'Others are writing to this log without a break; nothing was saved. Try again.',
          );
        await pause(Math.random() * 20);
      }
    }
  };

  return {
    write: (statements) =>
      queued(async () => {
        await send(statements, aTurn());
        ownNumber = undefined;
      }),
    alone: (work) => queued(() => untilUndisturbed(work)),
    settled: () => tail,
  };
}
