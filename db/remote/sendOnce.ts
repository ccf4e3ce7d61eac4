import { type Client, type InStatement, LibsqlError } from '@libsql/client';
import { DomainError } from '#shared/errors.ts';
import { ServerFault } from './remoteFetch.ts';
import { findingTurn, isTurnTaken, type Turn, TurnLost, takingTurn } from './turns.ts';

export type SendOnce = (statements: readonly InStatement[], turn: Turn) => Promise<void>;

type Sending = {
  reader: Client;
  writer: Client;
  /** For one write, with looking whether it is there and trying it again [ms]. */
  withinMs: number;
};

const mostTries = 4;

/**
 * Writes a batch in its turn, once, whatever becomes of the answers.
 * The result throws TurnLost when another program took the turn, DomainError `unanswered` when it is
 * not known whether the batch was written.
 */
export function sendingOnce({ reader, writer, withinMs }: Sending): SendOnce {
  const isWritten = async (turn: Turn) => (await reader.execute(findingTurn(turn))).rows.length > 0;

  return async (statements, turn) => {
    const batch = [...takingTurn(turn), ...statements];
    const untilMs = performance.now() + withinMs;
    let isUndone = true;
    for (let tried = 1; ; tried += 1) {
      try {
        await writer.batch(batch, 'write');
        return;
      } catch (error) {
        if (isTurnTaken(error, turn)) {
          if (isUndone) throw new TurnLost();
          if (await isWritten(turn).catch(unanswered)) return;
          throw new TurnLost();
        }
        if (!isPassing(error)) throw stopOf(error) ?? error;
        if (error instanceof ServerFault && !error.isUndone) isUndone = false;
        const isLast = tried === mostTries || performance.now() > untilMs;
        await pause(isLast ? 0 : 100 * tried);
        // Unanswered is not undone: what is there already must not be sent again.
        if (!isUndone && (await isWritten(turn).catch(() => false))) return;
        if (isLast && isUndone) throw stopOf(error) ?? error;
        if (isLast) unanswered();
      }
    }
  };
}

export const pause = (ms: number) => new Promise((resolve) => setTimeout(resolve, ms));

/** Whether the same write may well succeed a little later. */
export function isPassing(error: unknown): boolean {
  return (
    (error instanceof ServerFault && !error.isLasting) ||
    (error instanceof LibsqlError && error.code.startsWith('SQLITE_BUSY'))
  );
}

function unanswered(): never {
  throw new DomainError(
    'unanswered',
    'The database server did not answer. It may have been saved: look before you enter it again. What waits on a device is sent again by itself, and never saved twice.',
  );
}

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
