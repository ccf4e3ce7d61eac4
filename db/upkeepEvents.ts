import type { Database } from './database.ts';

export type UpkeepKind =
  | 'started'
  | 'stopped'
  | 'migrated'
  | 'backup made'
  | 'backup failed'
  | 'restored'
  | 'drill passed'
  | 'drill failed'
  | 'check passed'
  | 'check failed'
  | 'clock moved'
  | 'clock accepted';

type UpkeepEvent = { atMs: number; kind: UpkeepKind; detail: Record<string, unknown> };

/** Notes what was done to the file itself; the journal holds what the brewery did. */
export async function noteUpkeep(
  database: Pick<Database, 'write'>,
  { atMs, kind, detail }: UpkeepEvent,
): Promise<void> {
  await database.write([
    {
      sql: 'INSERT INTO upkeep_event (at_ms, kind, detail) VALUES (?, ?, ?)',
      args: [atMs, kind, JSON.stringify(detail)],
    },
  ]);
}

/** When the newest event of a kind was, if ever. */
export async function lastUpkeepMs(
  { execute }: Pick<Database, 'execute'>,
  kind: UpkeepKind,
): Promise<number | undefined> {
  const { rows } = await execute('SELECT max(at_ms) AS at FROM upkeep_event WHERE kind = ?', [
    kind,
  ]);
  const at = rows[0]?.['at'];
  return typeof at === 'number' ? at : undefined;
}
