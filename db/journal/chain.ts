import type { InValue, Row } from '@libsql/client';
import type { Database } from '../database.ts';
import { genesisHash, journalHash, type SealedRow } from './hash.ts';

export type FirstBad = { seq: number; id: string; recordId: string; why: string };
type ChainReport =
  | { sound: true; entries: number; head: string }
  | { sound: false; entries: number; firstBad: FirstBad };

const rowsAtOnce = 500;

/**
 * Walks the journal and checks every seal against the one before: from its first entry, or the
 * `last` so many. Other work gets its turn in between.
 */
export async function verifyChain(
  { execute }: Pick<Database, 'execute'>,
  { last = Number.POSITIVE_INFINITY }: { last?: number } = {},
): Promise<ChainReport> {
  const totals = await execute('SELECT count(*) AS entries, max(seq) AS newest FROM journal');
  const entries = Number(totals.rows[0]?.entries ?? 0);
  let seq = Math.max(0, Number(totals.rows[0]?.newest ?? 0) - last);
  let head = seq === 0 ? genesisHash : await sealAt(execute, seq);
  for (;;) {
    const rows = await journalAfter(execute, seq, rowsAtOnce);
    for (const row of rows) {
      const why = faultOf(row, head, seq + 1);
      if (why !== undefined) {
        const { id, recordId } = row;
        return { sound: false, entries, firstBad: { seq: row.seq, id, recordId, why } };
      }
      head = row.hash;
      seq = row.seq;
    }
    if (rows.length < rowsAtOnce) return { sound: true, entries, head };
    await new Promise((resolve) => setImmediate(resolve));
  }
}

async function sealAt(execute: Database['execute'], seq: number): Promise<string> {
  const { rows } = await execute('SELECT hash FROM journal WHERE seq = ?', [seq]);
  return String(rows[0]?.hash ?? '');
}

/** How many entries the journal holds, and the seal of the newest. */
export async function headOfJournal({
  execute,
}: Pick<Database, 'execute'>): Promise<{ entries: number; head: string }> {
  const { rows } = await execute('SELECT seq, hash FROM journal ORDER BY seq DESC LIMIT 1');
  const [newest] = rows;
  if (newest === undefined) return { entries: 0, head: genesisHash };
  return { entries: Number(newest.seq), head: String(newest.hash) };
}

/** The next rows of the journal, read without the typed layer so that any file can be looked at. */
export async function journalAfter(
  execute: Database['execute'],
  seq: number,
  limit: number,
): Promise<SealedRow[]> {
  const args: InValue[] = [seq, limit];
  const { rows } = await execute('SELECT * FROM journal WHERE seq > ? ORDER BY seq LIMIT ?', args);
  return rows.map(sealedRow);
}

function sealedRow(row: Row): SealedRow {
  const text = (column: string) => String(row[column]);
  const optional = (column: string) => (row[column] === null ? null : text(column));
  return {
    seq: Number(row.seq),
    id: text('id'),
    kind: text('kind'),
    recordId: text('record_id'),
    supersedes: optional('supersedes'),
    reason: optional('reason'),
    byName: text('by_name'),
    actor: text('actor'),
    via: text('via'),
    happenedAt: text('happened_at'),
    happenedMs: Number(row.happened_ms),
    receivedMs: Number(row.received_ms),
    requestSha256: text('request_sha256'),
    body: text('body'),
    warnings: textsOf(text('warnings')),
    prevHash: text('prev_hash'),
    hash: text('hash'),
    // A file from before it was kept has no such column.
    clockFastMs: (row.clock_fast_ms ?? null) === null ? null : Number(row.clock_fast_ms),
  };
}

// Damage may leave anything here; the seal then tells, as it covers the text as it was.
function textsOf(json: string): string[] {
  try {
    const value: unknown = JSON.parse(json);
    return Array.isArray(value) ? value.map(String) : [json];
  } catch {
    return [json];
  }
}

/** What is wrong with a row that should follow `head` as entry `expectedSeq`, if anything. */
export function faultOf(row: SealedRow, head: string, expectedSeq: number): string | undefined {
  if (row.seq !== expectedSeq) return `entry ${expectedSeq} is missing`;
  if (row.prevHash !== head) return 'it does not follow the entry before it';
  if (journalHash(row) !== row.hash) return 'its content does not match its seal';
  return undefined;
}

/** The journal from its first entry to its last. */
export async function wholeJournal(execute: Database['execute']): Promise<SealedRow[]> {
  const rows: SealedRow[] = [];
  for (;;) {
    const page = await journalAfter(execute, rows.at(-1)?.seq ?? 0, 500);
    rows.push(...page);
    if (page.length === 0) return rows;
  }
}
