import { appendAll } from '#db/bulk.ts';
import type { Database } from '#db/database.ts';
import { demoEntries } from './demoEntries.ts';

/** Fills an empty log with the invented brewery as it stands at a moment. */
export async function fillDemo(database: Database, nowMs: number): Promise<void> {
  await appendAll(database, demoEntries(nowMs), { actor: 'demo', via: 'system' });
}
