import { createHash } from 'node:crypto';
import { readdir, readFile } from 'node:fs/promises';
import type { Database } from './database.ts';

const folder = new URL('./migrations/', import.meta.url);
const fileName = /^(\d{4})_[a-z_]+\.sql$/;

type Migration = { number: number; name: string; sql: string; sha256: string };

/**
 * Brings a database to the newest shape, forward only, each step in one batch.
 * @throws Error when an applied step was edited since, or the file is newer than this program
 */
export async function migrate(database: Database, appliedMs: number): Promise<void> {
  await database.write([
    `CREATE TABLE IF NOT EXISTS schema_migration (
       number INTEGER PRIMARY KEY, name TEXT NOT NULL, sha256 TEXT NOT NULL, applied_ms INTEGER NOT NULL
     ) STRICT`,
  ]);
  const { rows } = await database.execute(
    'SELECT number, sha256 FROM schema_migration ORDER BY number',
  );
  const migrations = await readMigrations();
  if (rows.length > migrations.length)
    throw new Error('This database was made by a newer version of Barmbook; nothing was changed.');
  for (const [index, row] of rows.entries()) {
    if (row.sha256 !== migrations[index]?.sha256)
      throw new Error(
        `Migration ${index + 1} was edited after it was applied; nothing was changed.`,
      );
  }
  for (const step of migrations.slice(rows.length)) {
    await database.write([
      ...statementsOf(step.sql),
      {
        sql: 'INSERT INTO schema_migration (number, name, sha256, applied_ms) VALUES (?, ?, ?, ?)',
        args: [step.number, step.name, step.sha256, appliedMs],
      },
    ]);
  }
}

async function readMigrations(): Promise<Migration[]> {
  const names = (await readdir(folder)).filter((name) => fileName.test(name)).sort();
  return Promise.all(
    names.map(async (name, index) => {
      const number = Number(name.slice(0, 4));
      if (number !== index + 1) throw new Error(`Migration ${name} is out of order.`);
      const sql = await readFile(new URL(name, folder), 'utf8');
      return { number, name, sql, sha256: createHash('sha256').update(sql).digest('hex') };
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
