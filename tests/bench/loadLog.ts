import { setImmediate as pause } from 'node:timers/promises';
import type { Database } from '#db/database.ts';
import { genesisHash, type JournalRow, journalHash, sha256 } from '#db/journal/hash.ts';
import { journalInsertion } from '#db/journal/seal.ts';
import { argsOf, type Columns, columnsOf, markOf, tableOf } from '#db/project/rows.ts';
import { canonicalJson } from '#shared/canonical.ts';
import type { Made } from './syntheticLog.ts';

const rowsPerStatement = 60;
const rowsPerBatch = 6_000;

/**
 * Writes an invented log straight into the journal and its projections, in statements of many rows.
 * It is held to the rules by rebuilding a small one and comparing (tests/bench/loadLog.test.ts).
 */
export async function loadLog(database: Database, made: Iterable<Made>): Promise<number> {
  let seq = 0;
  let prevHash = genesisHash;
  let journal: JournalRow[] = [];
  let tables = new Map<string, Columns[]>();
  const strains = new Map<string, string>();
  const flush = async () => {
    const insertions = [...tables].flatMap(([table, rows]) =>
      chunks(rows).map((some) => insertion(table, some)),
    );
    await database.write([...chunks(journal).map(journalInsertion), ...insertions]);
    journal = [];
    tables = new Map();
    // The driver lets go of its statements only when the process comes to rest.
    await pause();
  };
  // Nothing of it need outlive a power cut while it is made.
  await database.execute('PRAGMA synchronous = OFF');
  await database.execute('PRAGMA foreign_keys = OFF');
  const dropped = await dropIndexesAndTriggers(database);
  for (const { id, entry, derived = {} } of made) {
    seq += 1;
    const body = canonicalJson(entry);
    const happenedMs = Date.parse(entry.happenedAt);
    const row = {
      seq,
      id,
      kind: entry.kind,
      recordId: id,
      supersedes: null,
      reason: null,
      byName: entry.by,
      actor: 'bench',
      via: 'system' as const,
      happenedAt: entry.happenedAt,
      happenedMs,
      receivedMs: happenedMs,
      requestSha256: sha256(body),
      body,
      warnings: [],
      clockFastMs: null,
      prevHash,
    };
    prevHash = journalHash(row);
    journal.push({ ...row, hash: prevHash });
    if (entry.kind === 'ferment') strains.set(id, entry.strainId);
    const strainId = entry.kind === 'crop' ? (strains.get(entry.fermentId) ?? null) : null;
    const columns = {
      id,
      entry_id: id,
      seq,
      happened_ms: happenedMs,
      ...columnsOf(entry, id, strainId),
      ...derived,
    };
    const table = tableOf[entry.kind];
    const rows = tables.get(table);
    if (rows === undefined) tables.set(table, [columns]);
    else rows.push(columns);
    if (journal.length >= rowsPerBatch) await flush();
  }
  await flush();
  for (const sql of dropped) await database.execute(sql);
  await database.execute('PRAGMA foreign_keys = ON');
  await database.execute('PRAGMA synchronous = FULL');
  return seq;
}

/** Millions of rows go in many times faster without; answers the statements that bring them back. */
async function dropIndexesAndTriggers(database: Database): Promise<string[]> {
  const { rows } = await database.execute(
    "SELECT type, name, sql FROM sqlite_master WHERE type IN ('index', 'trigger') AND sql IS NOT NULL",
  );
  for (const { type, name } of rows) await database.execute(`DROP ${type} "${name}"`);
  return rows.map(({ sql }) => String(sql));
}

function chunks<T>(rows: readonly T[]): T[][] {
  const parts: T[][] = [];
  for (let from = 0; from < rows.length; from += rowsPerStatement)
    parts.push(rows.slice(from, from + rowsPerStatement));
  return parts;
}

// Rows of one table may differ in columns (a fresh culture and a crop), so the widest set is used.
function insertion(table: string, rows: readonly Columns[]) {
  const names = [...new Set(rows.flatMap((row) => Object.keys(row)))];
  const cells = rows.map((row) => names.map((name) => row[name] ?? null));
  const marks = cells.map((row) => `(${row.map(markOf).join(', ')})`);
  return {
    sql: `INSERT INTO ${table} (${names.join(', ')}) VALUES ${marks.join(', ')}`,
    args: cells.flat().flatMap(argsOf),
  };
}
