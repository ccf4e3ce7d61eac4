import type { Database } from '../database.ts';
import { wholeJournal } from '../journal/chain.ts';
import { withModel } from '../journal/model.ts';
import { readMigrations, shapeOf } from '../migrate.ts';
import { projectionDump } from './upkeep.ts';

/** Replays a journal beside the file it stands in, and names the first table that differs. */
export async function faultOfProjections(
  execute: Database['execute'],
): Promise<string | undefined> {
  const rows = await wholeJournal(execute);
  const expected = await withModel(shapeOf(await readMigrations()), rows, projectionDump);
  const found = await projectionDump({ execute });
  const differing = Object.keys(expected).find(
    (table) => JSON.stringify(expected[table]) !== JSON.stringify(found[table]),
  );
  return differing === undefined
    ? undefined
    : `the table ${differing} does not say what the journal says: run npm run rebuild`;
}
