import type { Database } from '#db/database.ts';
import { noteUpkeep, type UpkeepKind } from '#db/safety/upkeepEvents.ts';
import type { UpkeepSettings } from '../environment.ts';
import { faultFields, type Log } from '../log.ts';

/** What every job of the upkeep works with. */
export type Parts = {
  database: Database;
  settings: UpkeepSettings;
  now: () => number;
  newId: () => string;
  log: Log;
};

/** Notes an event in the log's own file, if it can be written. */
export async function note(
  { database, now, log }: Parts,
  kind: UpkeepKind,
  detail: Record<string, unknown>,
): Promise<void> {
  await noteUpkeep(database, { atMs: now(), kind, detail }).catch((error: unknown) => {
    log('warn', 'upkeep could not be noted', { kind, ...faultFields(error) });
  });
}

export function whyOf(error: unknown): string {
  return error instanceof Error ? error.message : String(error);
}
