import type { InStatement } from '@libsql/client';
import type { Amount } from '#shared/entries/amounts.ts';
import type { EntryOf, RecordEntry } from '#shared/entries/entry.ts';
import { derivedStatements } from './derived.ts';
import { argsOf, type Columns, columnsOf, markOf, tableOf } from './rows.ts';

/** The tables of members, which a rebuild empties first. */
export const memberTableNames = ['lot_parent', 'family_hold_lot', 'family_hold_ferment'] as const;

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
  const bare = before === undefined ? [] : withoutMembers(before, change.recordId);
  if (after === undefined) {
    if (before === undefined) return [];
    const sql = `DELETE FROM ${tableOf[before.kind]} WHERE id = ?`;
    return [...bare, { sql, args: [change.recordId] }];
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
  return [...bare, place, ...members(after, change.recordId)];
}

// Set to their true values by the derived statements that follow in the same batch.
function unsettled(entry: RecordEntry, recordId: string): Columns {
  switch (entry.kind) {
    case 'freshCulture':
    case 'crop':
    case 'blend':
    case 'transfer':
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
  const marks = Object.values(columns).map(markOf).join(', ');
  return {
    sql: `INSERT INTO ${table} (${names.join(', ')}) VALUES (${marks})`,
    args: Object.values(columns).flatMap(argsOf),
  };
}

function replacement(table: string, recordId: string, columns: Columns): InStatement {
  const pairs = Object.entries(columns).map(([name, cell]) => `${name} = ${markOf(cell)}`);
  return {
    sql: `UPDATE ${table} SET ${pairs.join(', ')} WHERE id = ?`,
    args: [...Object.values(columns).flatMap(argsOf), recordId],
  };
}

// Rows of their own beside the record's: what was blended, what a hold of a family touches.
const memberTables = {
  blend: [{ table: 'lot_parent', column: 'lot_id' }],
  transfer: [{ table: 'lot_parent', column: 'lot_id' }],
  familyHold: [
    { table: 'family_hold_lot', column: 'hold_id' },
    { table: 'family_hold_ferment', column: 'hold_id' },
  ],
} as const;

function withoutMembers({ kind }: RecordEntry, recordId: string): InStatement[] {
  if (kind !== 'blend' && kind !== 'transfer' && kind !== 'familyHold') return [];
  return memberTables[kind].map(({ table, column }) => ({
    sql: `DELETE FROM ${table} WHERE ${column} = ?`,
    args: [recordId],
  }));
}

function members(entry: RecordEntry, recordId: string): InStatement[] {
  if (entry.kind === 'blend') return parents(entry.parents, recordId);
  if (entry.kind === 'transfer') return parents([entry], recordId);
  return entry.kind === 'familyHold' ? touched(entry, recordId) : [];
}

function touched({ lotIds = [], fermentIds = [] }: EntryOf<'familyHold'>, holdId: string) {
  const all = (table: string, column: string, ids: readonly string[]): InStatement[] =>
    ids.length === 0
      ? []
      : [
          {
            sql: `INSERT INTO ${table} (hold_id, ${column}) SELECT ?, value FROM json_each(?)`,
            args: [holdId, JSON.stringify(ids)],
          },
        ];
  return [
    ...all('family_hold_lot', 'lot_id', lotIds),
    ...all('family_hold_ferment', 'ferment_id', fermentIds),
  ];
}

function parents(drawn: readonly (Amount & { lotId: string })[], recordId: string): InStatement[] {
  return drawn.map((parent) =>
    insertion('lot_parent', {
      lot_id: recordId,
      parent_id: parent.lotId,
      amount_l: parent.amountL ?? null,
      amount_kg: parent.amountKg ?? null,
    }),
  );
}
