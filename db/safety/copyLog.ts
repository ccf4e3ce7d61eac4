import { pathToFileURL } from 'node:url';
import type { ResultSet } from '@libsql/client';
import { type Database, openDatabase } from '../database.ts';
import { headOfJournal, journalAfter } from '../journal/chain.ts';
import type { SealedRow } from '../journal/hash.ts';
import { projectionTables, replayStatements } from '../journal/replay.ts';
import { journalInsertion } from '../journal/seal.ts';
import { appliedSteps, readMigrations, shapeOf } from '../migrate.ts';
import { tableRows } from '../tableRows.ts';

const rowsAtOnce = 500;

/** The projections of so many entries are some megabytes, which a server answers at once. */
const mostEntries = 10_000;

/**
 * Copies an open log into a new file, whole and as of one moment; others may go on writing.
 *
 * @param replaysFrom  entries from which the projections of a log on a server are made anew
 */
export async function copyLog(
  database: Database,
  file: string,
  { replaysFrom = mostEntries } = {},
): Promise<void> {
  // The one way to copy an open file: it must never be opened by anything else.
  if (database.isLocal) await database.execute({ sql: 'VACUUM INTO ?', args: [file] });
  else await copyFromServer(database, file, replaysFrom);
}

/**
 * A server gives no file: its rows are read and written down here. The journal only grows, so it is
 * read page by page; all else is read together with its newest row, but for the projections of a long
 * log, which are more than a server answers at once: they are made anew.
 */
async function copyFromServer(
  database: Database,
  file: string,
  replaysFrom: number,
): Promise<void> {
  const migrations = await readMigrations();
  const steps = migrations.slice(0, (await appliedSteps(database)).length);
  const { entries } = steps.length === 0 ? { entries: 0 } : await headOfJournal(database);
  const isReplayed = steps.length === migrations.length && entries >= replaysFrom;
  const copy = await openDatabase(pathToFileURL(file).href);
  try {
    // Nothing of a half copy need outlive a power cut, and a whole one is looked over.
    await copy.execute('PRAGMA synchronous = OFF');
    await copy.write(shapeOf(steps));
    const triggers = await named(copy, 'trigger');
    const tables = (await named(copy, 'table')).filter(
      ({ name }) => name !== 'journal' && !(isReplayed && isProjection(name)),
    );
    const [newest, ...contents] = await database.together([
      'SELECT coalesce(max(seq), 0) AS seq FROM journal',
      ...tables.map(({ name }) => `SELECT * FROM ${name}`),
    ]);
    const rows = await copyJournal(database, copy, Number(newest?.rows[0]?.seq));
    await copy.write([
      'PRAGMA defer_foreign_keys = ON',
      // They guard the order in which things happen, not that in which rows are copied.
      ...triggers.map(({ name }) => `DROP TRIGGER ${name}`),
      ...tables.flatMap(({ name }, index) => loadOf(name, contents[index])),
      ...triggers.map(({ sql }) => sql),
      ...(isReplayed ? replayStatements(rows) : []),
    ]);
    await copy.execute('PRAGMA journal_mode = DELETE');
  } finally {
    await copy.close();
  }
}

const isProjection = (name: string) => projectionTables.some((table) => table === name);

async function named({ execute }: Database, type: 'table' | 'trigger') {
  const { rows } = await execute(
    "SELECT name, sql FROM sqlite_master WHERE type = ? AND name NOT LIKE 'sqlite_%' ORDER BY name",
    [type],
  );
  return rows.map((row) => ({ name: String(row.name), sql: String(row.sql) }));
}

async function copyJournal(from: Database, to: Database, lastSeq: number): Promise<SealedRow[]> {
  const rows: SealedRow[] = [];
  while (rows.length < lastSeq) {
    const page = await journalAfter(from.execute, rows.length, rowsAtOnce);
    const wanted = page.filter(({ seq }) => seq <= lastSeq);
    if (wanted.length === 0) throw new Error(`Entry ${rows.length + 1} cannot be read.`);
    await to.write([journalInsertion(wanted)]);
    rows.push(...wanted);
  }
  return rows;
}

const loadOf = (table: string, content: ResultSet | undefined) =>
  content === undefined ? [] : [tableRows(table, content)];
