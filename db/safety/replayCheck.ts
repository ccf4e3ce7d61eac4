import { type Database, openDatabase } from '../database.ts';
import { wholeJournal } from '../journal/chain.ts';
import { replayStatements } from '../journal/replay.ts';
import { journalInsertion } from '../journal/seal.ts';
import { migrate } from '../migrate.ts';
import { projectionDump } from './upkeep.ts';

const rowsAtOnce = 100;

/** Replays a journal beside the file it stands in, and names the first table that differs. */
export async function faultOfProjections(
  execute: Database['execute'],
): Promise<string | undefined> {
  const rows = await wholeJournal(execute);
  const model = await openDatabase(':memory:');
  await migrate(model, 0);
  const insertions = [];
  for (let from = 0; from < rows.length; from += rowsAtOnce)
    insertions.push(journalInsertion(rows.slice(from, from + rowsAtOnce)));
  await model.write([...insertions, ...replayStatements(rows)]);
  const expected = await projectionDump(model);
  const found = await projectionDump({ execute });
  const differing = Object.keys(expected).find(
    (table) => JSON.stringify(expected[table]) !== JSON.stringify(found[table]),
  );
  return differing === undefined
    ? undefined
    : `the table ${differing} does not say what the journal says: run npm run rebuild`;
}
