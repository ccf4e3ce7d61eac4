import type { Database } from '../database.ts';
import { type FirstBad, verifyChain } from '../journal/chain.ts';
import { appliedSteps, readMigrations } from '../migrate.ts';
import { faultOfShape } from '../safety/inspectShape.ts';
import { faultOfProjections } from '../safety/replayCheck.ts';

type RemoteReport =
  | { state: 'sound'; entries: number; head: string }
  | { state: 'empty' }
  | { state: 'edited' | 'damaged'; why: string; firstBad?: FirstBad };
type Depth = 'start' | 'full';

const chainAtStart = 1_000;

/**
 * Looks a log on a server over by reading it: shape, seals, references; in full every seal, and
 * whether the projections are what the journal says. Its pages are for the server to look after.
 */
export async function inspectRemote(database: Database, depth: Depth): Promise<RemoteReport> {
  const migrations = await readMigrations();
  const { length: steps } = await appliedSteps(database);
  if (steps === 0) return { state: 'empty' };
  const shape = await faultOfShape(database, migrations.slice(0, steps), { isReworded: true });
  if (shape !== undefined) return { state: 'edited', why: shape };
  const chain = await verifyChain(database, depth === 'start' ? { last: chainAtStart } : {});
  if (!chain.sound) {
    const { firstBad } = chain;
    const why = `entry ${firstBad.seq} (${firstBad.id}): ${firstBad.why}`;
    return { state: 'damaged', why, firstBad };
  }
  const { rows } = await database.execute('SELECT count(*) AS n FROM pragma_foreign_key_check');
  const orphans = Number(rows[0]?.n);
  if (orphans > 0)
    return { state: 'damaged', why: `${orphans} rows of it point to rows that are not there` };
  if (depth === 'full' && steps === migrations.length) {
    const why = await faultOfProjections(database.execute);
    if (why !== undefined) return { state: 'damaged', why };
  }
  return { state: 'sound', entries: chain.entries, head: chain.head };
}
