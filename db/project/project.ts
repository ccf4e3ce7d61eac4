import type { InStatement } from '@libsql/client';
import type { EntryOf, RecordEntry } from '#shared/entries/entry.ts';
import { derivedStatements } from './derived.ts';
import { type Columns, columnsOf, tableOf } from './rows.ts';

/** What an entry does to a record: `before` is missing when it is made, `after` when struck out. */
export type Change = {
  recordId: string;
  entryId: string;
  seq: number;
  happenedMs: number;
  before: RecordEntry | undefined;
  after: RecordEntry | undefined;
  /** For a crop or a blend: the strain it is of. */
  strainId: string | null;
};

/** The statements that carry one change into the projections, in the order they must run. */
export function project(change: Change): InStatement[] {
  const touched = [change.before, change.after].filter((entry) => entry !== undefined);
  return [...placing(change), ...derivedStatements(touched, change.recordId)];
}

function placing({ before, after, ...change }: Change): InStatement[] {
  const parentless: InStatement[] =
    before?.kind === 'blend'
      ? [{ sql: 'DELETE FROM lot_parent WHERE lot_id = ?', args: [change.recordId] }]
      : [];
  if (after === undefined) {
    if (before === undefined) return [];
    const sql = `DELETE FROM ${tableOf[before.kind]} WHERE id = ?`;
    return [...parentless, { sql, args: [change.recordId] }];
  }
  const columns: Columns = {
    entry_id: change.entryId,
    seq: change.seq,
    happened_ms: change.happenedMs,
    ...columnsOf(after, change.recordId, change.strainId),
    ...unsettled(after, change.recordId),
  };
  const place =
    before === undefined
      ? insertion(tableOf[after.kind], { id: change.recordId, ...columns })
      : replacement(tableOf[after.kind], change.recordId, columns);
  return [...parentless, place, ...(after.kind === 'blend' ? parents(after, change.recordId) : [])];
}

// Set to their true values by the derived statements that follow in the same batch.
function unsettled(entry: RecordEntry, recordId: string): Columns {
  switch (entry.kind) {
    case 'freshCulture':
    case 'crop':
    case 'blend':
      return {
        generation: 0,
        times_pitched: 0,
        line_id: recordId,
        left_l: entry.amountL ?? null,
        left_kg: entry.amountKg ?? null,
      };
    default:
      return {};
  }
}

function insertion(table: string, columns: Columns): InStatement {
  const names = Object.keys(columns);
  const marks = names.map(() => '?').join(', ');
  return {
    sql: `INSERT INTO ${table} (${names.join(', ')}) VALUES (${marks})`,
    args: Object.values(columns),
  };
}

function replacement(table: string, recordId: string, columns: Columns): InStatement {
  const pairs = Object.keys(columns).map((name) => `${name} = ?`);
  return {
    sql: `UPDATE ${table} SET ${pairs.join(', ')} WHERE id = ?`,
    args: [...Object.values(columns), recordId],
  };
}

function parents(blend: EntryOf<'blend'>, recordId: string): InStatement[] {
  return blend.parents.map((parent) =>
    insertion('lot_parent', {
      lot_id: recordId,
      parent_id: parent.lotId,
      amount_l: parent.amountL ?? null,
      amount_kg: parent.amountKg ?? null,
    }),
  );
}
