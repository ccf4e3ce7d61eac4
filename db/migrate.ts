import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import type { Database, Write } from './database.ts';
import { wholeJournal } from './journal/chain.ts';
import { withModel } from './journal/model.ts';
import { replayStatements } from './journal/replay.ts';
import { StartRefusal } from './opening/startRefusal.ts';
import { emptying, filling } from './project/anew.ts';

const ownFolder = new URL('./migrations/', import.meta.url);
const fileName = /^(\d{4})_[a-z_]+\.sql$/;

export type Migration = {
  number: number;
  name: string;
  sha256: string;
  statements: string[];
  /** It leaves the projections empty, to be made anew from the journal. */
  rebuilds: boolean;
};
type AppliedStep = { number: number; sha256: string };

type MigrateOptions = {
  folder?: URL;
  /** Runs when a file that holds something is about to change, before it does. */
  beforeChange?: (from: number, to: number) => Promise<void>;
};

/** What the program keeps about the file itself; none of it comes from the journal. */
const ownTables = [
  `CREATE TABLE IF NOT EXISTS schema_migration (
       number INTEGER PRIMARY KEY, name TEXT NOT NULL, sha256 TEXT NOT NULL, applied_ms INTEGER NOT NULL
     ) STRICT`,
  `CREATE TABLE IF NOT EXISTS instance (
       only_row INTEGER PRIMARY KEY CHECK (only_row = 1), id TEXT NOT NULL, created_ms INTEGER NOT NULL
     ) STRICT`,
  `CREATE TABLE IF NOT EXISTS upkeep_event (
       number INTEGER PRIMARY KEY AUTOINCREMENT, at_ms INTEGER NOT NULL, kind TEXT NOT NULL,
       detail TEXT NOT NULL CHECK (json_valid(detail))
     ) STRICT`,
];

/** All that makes an empty log of the shape after these steps. */
export const shapeOf = (migrations: readonly Migration[]): string[] => [
  ...ownTables,
  ...migrations.flatMap(({ statements }) => statements),
];

/**
 * Brings a database to the newest shape, forward only, all missing steps in one batch.
 * @throws StartRefusal when an applied step was edited since, the file is newer than this program,
 *   or a step fails; nothing is changed then
 */
export async function migrate(
  database: Database,
  appliedMs: number,
  { folder = ownFolder, beforeChange }: MigrateOptions = {},
): Promise<void> {
  const migrations = await readMigrations(folder);
  const before = await appliedSteps(database);
  refuseUnknownSteps(before, migrations);
  if (before.length > 0 && before.length < migrations.length)
    await beforeChange?.(before.length, migrations.length);
  let isUpgrading = false;
  try {
    // Two programs may start on one server: the second finds all steps taken.
    await database.alone(async (write) => {
      const missing = migrations.slice((await appliedSteps(database)).length);
      isUpgrading = missing.length > 0;
      if (isUpgrading)
        await write([...ownTables, ...(await upgrade(database, migrations, missing, appliedMs))]);
    });
  } catch (error) {
    if (!isUpgrading) throw error;
    const why = error instanceof Error ? error.message : String(error);
    throw new StartRefusal(
      'upgradeFailed',
      `The log could not be brought to the shape of this version (${why}); nothing was changed.`,
    );
  }
}

async function upgrade(
  database: Database,
  migrations: readonly Migration[],
  missing: readonly Migration[],
  appliedMs: number,
): Promise<Parameters<Write>[0]> {
  const journal = missing[0]?.number === 1 ? undefined : await journalMark(database);
  const rebuilds = journal !== undefined && missing.some((step) => step.rebuilds);
  return [
    ...(rebuilds && !database.isLocal ? await emptying(database) : []),
    ...missing.flatMap((step) => statementsFor(database, step)),
    ...(rebuilds ? await projectionsAnew(database, migrations) : []),
    ...missing.map((step) => applying(step, appliedMs, journal)),
  ];
}

// A server sets nothing for itself, so its projections are empty before a step that makes them anew.
function statementsFor({ isLocal }: Database, { statements }: Migration): string[] {
  return isLocal ? statements : statements.filter((sql) => !sql.startsWith('PRAGMA '));
}

// Only once all steps are taken: the projections are made as this program knows them.
async function projectionsAnew({ execute, isLocal }: Database, migrations: readonly Migration[]) {
  const rows = await wholeJournal(execute);
  return isLocal ? replayStatements(rows) : withModel(shapeOf(migrations), rows, filling);
}

/** The steps a database has taken, in order; none when it is new. */
export async function appliedSteps({ execute }: Pick<Database, 'execute'>): Promise<AppliedStep[]> {
  const { rows: tables } = await execute(
    "SELECT 1 FROM sqlite_master WHERE type = 'table' AND name = 'schema_migration'",
  );
  if (tables.length === 0) return [];
  const { rows } = await execute('SELECT number, sha256 FROM schema_migration ORDER BY number');
  return rows.map((row) => ({ number: Number(row.number), sha256: String(row.sha256) }));
}

/** @throws StartRefusal when the steps taken are not the first ones of this program */
export function refuseUnknownSteps(
  applied: readonly AppliedStep[],
  migrations: readonly Migration[],
): void {
  if (applied.length > migrations.length)
    throw new StartRefusal(
      'newer',
      'This log was written by a newer version of Barmbook; nothing was changed.',
    );
  for (const [index, step] of applied.entries()) {
    const known = migrations[index];
    if (step.number !== known?.number)
      throw new StartRefusal('edited', `Migration ${index + 1} is missing; nothing was changed.`);
    if (step.sha256 !== known.sha256)
      throw new StartRefusal(
        'edited',
        `Migration ${index + 1} was edited after it was applied; nothing was changed.`,
      );
  }
}

// A row without its checksum is refused by the table, and the whole batch with it: so a step that
// leaves a row pointing nowhere, or touches the journal, does not happen.
function applying(step: Migration, appliedMs: number, journal: string | undefined) {
  const journalRule = journal === undefined ? '' : `OR (${journalMarkSql}) <> ?`;
  return {
    sql: `INSERT INTO schema_migration (number, name, sha256, applied_ms)
          SELECT ?, ?, CASE WHEN EXISTS (SELECT 1 FROM pragma_foreign_key_check) ${journalRule}
                       THEN NULL ELSE ? END, ?`,
    args: [
      step.number,
      step.name,
      ...(journal === undefined ? [] : [journal]),
      step.sha256,
      appliedMs,
    ],
  };
}

const journalMarkSql = `SELECT count(*) || ' ' || coalesce(max(seq), 0) || ' ' ||
  coalesce((SELECT hash FROM journal ORDER BY seq DESC LIMIT 1), '') FROM journal`;

async function journalMark({ execute }: Database): Promise<string> {
  const { rows } = await execute(`SELECT (${journalMarkSql}) AS mark`);
  return String(rows[0]?.mark);
}

/** The steps of this program, in order. */
export async function readMigrations(folder = ownFolder): Promise<Migration[]> {
  const names = (await readdir(folder)).filter((name) => fileName.test(name)).sort();
  return Promise.all(
    names.map(async (name, index) => {
      const number = Number(name.slice(0, 4));
      if (number !== index + 1)
        throw new StartRefusal('edited', `Migration ${name} is out of order.`);
      const sql = await readFile(new URL(name, folder), 'utf8');
      return {
        number,
        name,
        statements: statementsOf(sql),
        rebuilds: sql.startsWith('-- rebuild the projections afterwards\n'),
        sha256: createHash('sha256').update(sql).digest('hex'),
      };
    }),
  );
}

// A statement ends at a semicolon that closes a line; a trigger's body ends with END.
function statementsOf(sql: string): string[] {
  const statements: string[] = [];
  let current: string[] = [];
  for (const line of sql.split('\n')) {
    if (line.trim() === '' || line.startsWith('--')) continue;
    current.push(line);
    const isTrigger = current[0]?.startsWith('CREATE TRIGGER') === true;
    if (isTrigger ? /END;$/.test(line) : line.endsWith(';')) {
      statements.push(current.join('\n'));
      current = [];
    }
  }
  if (current.length > 0) throw new Error('A migration ends in the middle of a statement.');
  return statements;
}
