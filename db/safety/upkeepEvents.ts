import type { Database } from '../database.ts';

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

/** The newest event of a kind, if there was one. */
export async function lastUpkeep(
  { execute }: Pick<Database, 'execute'>,
  kind: UpkeepKind,
): Promise<Pick<UpkeepEvent, 'atMs' | 'detail'> | undefined> {
  const { rows } = await execute(
    'SELECT at_ms, detail FROM upkeep_event WHERE kind = ? ORDER BY number DESC LIMIT 1',
    [kind],
  );
  const [row] = rows;
  return row && { atMs: Number(row.at_ms), detail: JSON.parse(String(row.detail)) };
}
