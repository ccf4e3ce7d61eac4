import { type Database, openDatabase } from '../database.ts';
import { insertions } from '../tableRows.ts';
import type { SealedRow } from './hash.ts';
import { replayStatements } from './replay.ts';
import { journalRows } from './seal.ts';

/**
 * Works with a log in memory that is made anew from a journal.
 *
 * @param shape  all that makes an empty log of this program's shape
 */
export async function withModel<T>(
  shape: readonly string[],
  rows: readonly SealedRow[],
  work: (model: Database) => Promise<T>,
): Promise<T> {
  const model = await openDatabase(':memory:');
  try {
    await model.write([...shape, ...insertions(journalRows(rows)), ...replayStatements(rows)]);
    return await work(model);
  } finally {
    await model.close();
  }
}
