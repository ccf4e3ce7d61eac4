import type { Database } from '#db/database.ts';
import { appendAll } from '#db/journal/bulk.ts';
import { demoEntries } from './demoEntries.ts';
import { demoAccounts, demoActor } from './demoPeople.ts';

/** Fills an empty log with the invented brewery and its people as they stand at a moment. */
export async function fillDemo(database: Database, nowMs: number): Promise<void> {
  const entries = demoEntries(nowMs).map((each) => ({ ...each, actor: demoActor(each.entry.by) }));
  await appendAll(database, entries, { actor: 'demo', via: 'web' });
  await database.write(demoAccounts(nowMs));
}
