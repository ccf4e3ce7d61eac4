import { randomUUID } from 'node:crypto';
import { type InStatement, LibsqlError } from '@libsql/client';

/**
 * Every write to a server takes the next number, so that of two programs that began from the same
 * state one loses and looks again; and bears an id, so that a write whose answer was lost is known
 * again and never carried out twice.
 */
export type Turn = { id: string; number: number | undefined };

/** On servers alone, and in no copy. */
export const turnTableName = 'write_turn';
export const turnTable = `CREATE TABLE IF NOT EXISTS ${turnTableName} (number INTEGER PRIMARY KEY, id TEXT NOT NULL UNIQUE) STRICT`;

export const lastTurn = 'SELECT coalesce(max(number), 0) AS number FROM write_turn';

// Enough to know any write again for as long as it is tried.
const turnsKept = 10_000;

/** A turn of a given number, or of the next one whichever it is. */
export const aTurn = (number?: number): Turn => ({ id: randomUUID(), number });

/** What takes the turn; it comes first in the batch. */
export function takingTurn({ id, number }: Turn): InStatement[] {
  return [
    number === undefined
      ? { sql: `INSERT INTO write_turn SELECT (${lastTurn}) + 1, ?`, args: [id] }
      : { sql: 'INSERT INTO write_turn VALUES (?, ?)', args: [number, id] },
    `DELETE FROM write_turn WHERE number <= (SELECT max(number) FROM write_turn) - ${turnsKept}`,
  ];
}

export const findingTurn = ({ id }: Turn): InStatement => ({
  sql: 'SELECT 1 FROM write_turn WHERE id = ?',
  args: [id],
});

/** Whether a batch failed because its turn, or its place in the journal, was taken by then. */
export function isTurnTaken(error: unknown, { number }: Turn): boolean {
  if (!(error instanceof LibsqlError)) return false;
  const { message } = error;
  return (
    message.includes('UNIQUE constraint failed: write_turn.') ||
    (number !== undefined && message.includes('the journal already holds this entry'))
  );
}

/** Another program wrote since this one looked: what was looked at must be looked at again. */
export class TurnLost extends Error {
  constructor() {
    super('Another program wrote in between.');
    this.name = 'TurnLost';
  }
}
