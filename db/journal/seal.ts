import { canonicalJson } from '#shared/canonical.ts';
import type { Entry } from '#shared/entries/entry.ts';
import { insertion, type TableRows } from '../tableRows.ts';
import { genesisHash, type JournalRow, journalHash, type SealedRow } from './hash.ts';

/** When an entry came in, who sent it and by what way. */
export type Source = {
  receivedMs: number;
  actor: string;
  via: JournalRow['via'];
  /** By how much the sender's clock ran ahead of the log's; left out where it was not told [ms]. */
  clockFastMs?: number | undefined;
};

type Sealing = Source & {
  id: string;
  recordId: string;
  requestSha256: string;
  warnings: readonly string[];
};

/** An entry as the row that follows `last` in the journal; the first row when there is none. */
export function sealed(
  entry: Entry,
  sealing: Sealing,
  last: Pick<JournalRow, 'seq' | 'hash'> | undefined,
): JournalRow {
  const { supersedes = null, reason = null } = entry;
  const row = {
    seq: (last?.seq ?? 0) + 1,
    id: sealing.id,
    kind: entry.kind,
    recordId: sealing.recordId,
    supersedes,
    reason,
    byName: entry.by,
    actor: sealing.actor,
    via: sealing.via,
    happenedAt: entry.happenedAt,
    happenedMs: Date.parse(entry.happenedAt),
    receivedMs: sealing.receivedMs,
    requestSha256: sealing.requestSha256,
    body: canonicalJson(entry),
    warnings: sealing.warnings,
    clockFastMs: sealing.clockFastMs ?? null,
    prevHash: last?.hash ?? genesisHash,
  };
  return { ...row, hash: journalHash(row) };
}

const columns = [
  'seq',
  'id',
  'kind',
  'record_id',
  'supersedes',
  'reason',
  'by_name',
  'actor',
  'via',
  'happened_at',
  'happened_ms',
  'received_ms',
  'request_sha256',
  'body',
  'warnings',
  'prev_hash',
  'hash',
  'clock_fast_ms',
];

export const journalRows = (rows: readonly SealedRow[]): TableRows => ({
  table: 'journal',
  columns,
  rows: rows.map((row) => [
    row.seq,
    row.id,
    row.kind,
    row.recordId,
    row.supersedes,
    row.reason,
    row.byName,
    row.actor,
    row.via,
    row.happenedAt,
    row.happenedMs,
    row.receivedMs,
    row.requestSha256,
    row.body,
    JSON.stringify(row.warnings),
    row.prevHash,
    row.hash,
    row.clockFastMs,
  ]),
});

/** One statement for any number of rows. */
export const journalInsertion = (rows: readonly SealedRow[]) => insertion(journalRows(rows));
