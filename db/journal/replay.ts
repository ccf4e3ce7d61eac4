import type { InStatement } from '@libsql/client';
import type { RecordEntry } from '#shared/entries/entry.ts';
import { memberTableNames, project } from '../project/project.ts';
import { tableOf } from '../project/rows.ts';
import type { SealedRow } from './hash.ts';
import { parsedEntry } from './parsedEntry.ts';

export const projectionTables = [...memberTableNames, ...new Set(Object.values(tableOf))].sort();

/** All the statements that make the projections from nothing but the journal. */
export function replayStatements(rows: readonly SealedRow[]): InStatement[] {
  const inForce = new Map<string, RecordEntry>();
  const strains = new Map<string, string>();
  const strainOf = (entry: RecordEntry): string | null => {
    if (entry.kind === 'freshCulture' || entry.kind === 'ferment') return entry.strainId;
    if (entry.kind === 'crop') return strains.get(entry.fermentId) ?? null;
    if (entry.kind === 'blend') return strains.get(entry.parents[0]?.lotId ?? '') ?? null;
    if (entry.kind === 'transfer') return strains.get(entry.lotId) ?? null;
    return null;
  };
  return rows.flatMap((row) => {
    const entry = parsedEntry(row);
    const after = entry.kind === 'void' ? undefined : entry;
    const before = inForce.get(row.recordId);
    const strainId = after === undefined ? null : strainOf(after);
    if (after === undefined) inForce.delete(row.recordId);
    else inForce.set(row.recordId, after);
    if (strainId !== null) strains.set(row.recordId, strainId);
    return project({
      recordId: row.recordId,
      entryId: row.id,
      seq: row.seq,
      happenedMs: row.happenedMs,
      before,
      after,
      strainId,
    });
  });
}
