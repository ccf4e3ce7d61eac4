import { type SQL, sql } from 'drizzle-orm';
import type { Entry, RecordKind } from '#shared/entries/entry.ts';
import { DomainError } from '#shared/errors.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { Query } from '../database.ts';
import { parsedEntry } from '../journal/parsedEntry.ts';
import { tableOf } from '../project/rows.ts';
import { andAtSite, type SiteScope } from '../sites/siteScope.ts';
import { siteColumn } from '../sites/sites.ts';

type Row = {
  recordId: string;
  entryId: string;
  seq: number;
  receivedMs: number;
  corrected: number;
  clockFastMs: number | null;
  body: string;
};

export const pageLimit = 200;

/** Records of the kinds given, newest entry first; `next` is the `before` of the next page. */
export async function listRecords<K extends RecordKind>(
  query: Query,
  kinds: readonly [K, ...K[]],
  { limit, before, at }: { limit: number; before: number | undefined; at?: SiteScope },
): Promise<{ items: Recorded<K>[]; next: number | null }> {
  const kind = sql.join(
    kinds.map((name) => sql`${name}`),
    sql`, `,
  );
  const older = before === undefined ? sql`` : sql`AND row.seq < ${before}`;
  const column = siteColumn[tableOf[kinds[0]]];
  const inScope = column === null ? sql`` : andAtSite(column, at);
  const rows = await select(
    query,
    kinds[0],
    sql`journal.kind IN (${kind}) ${older} ${inScope} ORDER BY row.seq DESC LIMIT ${limit + 1}`,
  );
  const items = rows.filter((row) => isOneOf(row, kinds));
  const page = items.slice(0, limit);
  return { items: page, next: items.length > limit ? (page.at(-1)?.seq ?? null) : null };
}

/** @throws DomainError `not_found` */
export async function getRecord<K extends RecordKind>(
  query: Query,
  kind: K,
  id: string,
): Promise<Recorded<K>> {
  const [record] = await recordsWhere(query, kind, 'id', [id]);
  if (record === undefined)
    throw new DomainError('not_found', 'There is no such record in the log.');
  return record;
}

type Column = 'id' | 'lot_id' | 'ferment_id' | 'check_id' | 'planned_brew_id';

/** All records of one kind that belong to the ids given, in the order they happened. */
export async function recordsWhere<K extends RecordKind>(
  query: Query,
  kind: K,
  column: Column,
  ids: readonly string[],
): Promise<Recorded<K>[]> {
  if (ids.length === 0) return [];
  const rows = await select(
    query,
    kind,
    sql`${sql.raw(`row.${column}`)} IN (SELECT value FROM json_each(${JSON.stringify(ids)}))
        ORDER BY row.happened_ms, row.seq`,
  );
  return rows.filter((row) => isOfKind(row, kind));
}

/** Every record of a kind that is few by nature: strains, fermenters. */
export async function allRecords<K extends RecordKind>(
  query: Query,
  kind: K,
  at?: SiteScope,
): Promise<Recorded<K>[]> {
  const column = siteColumn[tableOf[kind]];
  const inScope = column === null ? sql`` : andAtSite(column, at);
  const rows = await select(query, kind, sql`1 ${inScope} ORDER BY row.happened_ms, row.seq`);
  return rows.filter((row) => isOfKind(row, kind));
}

function isOfKind<K extends RecordKind>(record: Recorded, kind: K): record is Recorded<K> {
  return record.kind === kind;
}

function isOneOf<K extends RecordKind>(
  record: Recorded,
  kinds: readonly K[],
): record is Recorded<K> {
  return kinds.some((kind) => isOfKind(record, kind));
}

// CROSS keeps the order of the two: the other way round the whole journal would be read.
async function select(query: Query, kind: RecordKind, rest: SQL): Promise<Recorded[]> {
  const rows = await query.all<Row>(sql`${sql.raw(columnsFrom(tableOf[kind]))} WHERE ${rest}`);
  return rows.map(recorded);
}

const columnsFrom = (table: string) => `
  SELECT row.id AS recordId, journal.id AS entryId, row.seq AS seq,
    journal.received_ms AS receivedMs, journal.supersedes IS NOT NULL AS corrected,
    journal.clock_fast_ms AS clockFastMs, journal.body AS body
  FROM ${table} AS row CROSS JOIN journal ON journal.id = row.entry_id`;

// An entry is kept as it was parsed, and so is the record it last made: screens ask again and again.
const lastMade = new WeakMap<Entry, { row: Row; record: Recorded }>();

function recorded(row: Row): Recorded {
  const entry = parsedEntry(row);
  if (entry.kind === 'void') throw new Error(`Record ${row.recordId} rests on a void.`);
  const last = lastMade.get(entry);
  if (last !== undefined && isSame(last.row, row)) return last.record;
  const record = {
    ...entry,
    id: row.recordId,
    entryId: row.entryId,
    seq: row.seq,
    receivedAt: new Date(row.receivedMs).toISOString(),
    corrected: row.corrected === 1,
    ...(row.clockFastMs !== null && { clockFastMs: row.clockFastMs }),
  };
  lastMade.set(entry, { row, record });
  return record;
}

const isSame = (one: Row, other: Row) =>
  one.entryId === other.entryId &&
  one.recordId === other.recordId &&
  one.seq === other.seq &&
  one.receivedMs === other.receivedMs &&
  one.corrected === other.corrected &&
  one.clockFastMs === other.clockFastMs;
