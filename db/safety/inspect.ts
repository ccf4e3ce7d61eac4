import { openSync, readSync, statSync } from 'node:fs';
import { pathToFileURL } from 'node:url';
import { type Client, createClient } from '@libsql/client';
import { freeConnections } from '../freeConnections.ts';
import { type FirstBad, verifyChain } from '../journal/chain.ts';
import { appliedSteps, readMigrations, refuseUnknownSteps } from '../migrate.ts';
import { StartRefusal } from '../opening/startRefusal.ts';
import { faultOfShape } from './inspectShape.ts';
import { countOf, faultOfText } from './inspectText.ts';

export type SoundFile = {
  state: 'sound';
  instanceId: string | null;
  entries: number;
  head: string;
  steps: number;
  /** Rows of every table. */
  counts: Record<string, number>;
};
export type FileReport =
  | SoundFile
  | { state: 'empty' }
  | { state: 'newer' | 'edited' | 'damaged'; why: string; firstBad?: FirstBad };
export type Depth = 'start' | 'full';

const chainAtStart = 1_000;

/**
 * Looks a closed database file over without changing it: header, shape, pages, text, seals; in full
 * also references and whether the projections are what the journal says. Reading a damaged file can
 * end the process, so this runs in one of its own.
 */
export async function inspectFile(path: string, depth: Depth): Promise<FileReport> {
  if (statSync(path).size === 0) return { state: 'empty' };
  if (!hasHeader(path)) return damaged('it is not a database file');
  const client = createClient({ url: pathToFileURL(path).href, concurrency: 1, intMode: 'number' });
  try {
    return await inspected(client, depth);
  } catch (error) {
    if (error instanceof StartRefusal)
      return { state: error.exitCode === 4 ? 'newer' : 'edited', why: error.message };
    return damaged(error instanceof Error ? error.message : String(error));
  } finally {
    client.close();
    await freeConnections();
  }
}

const damaged = (why: string): FileReport => ({ state: 'damaged', why });

function hasHeader(path: string): boolean {
  const bytes = Buffer.alloc(16);
  readSync(openSync(path, 'r'), bytes, 0, bytes.length, 0);
  return bytes.toString('latin1') === 'SQLite format 3\u0000';
}

async function inspected(client: Client, depth: Depth): Promise<FileReport> {
  const execute: Client['execute'] = client.execute.bind(client);
  const tables = await tablesOf(client);
  if (tables.length === 0) return { state: 'empty' };
  const applied = await appliedSteps({ execute });
  if (applied.length === 0) return damaged('it is the database of another program');
  const migrations = await readMigrations();
  refuseUnknownSteps(applied, migrations);
  const pages = await faultOfPages(client, depth);
  if (pages !== undefined) return damaged(pages);
  const shape = await faultOfShape(client, migrations.slice(0, applied.length));
  if (shape !== undefined) return { state: 'edited', why: shape };
  const text = await faultOfText(client, tables, depth);
  if (text !== undefined) return damaged(text);
  const chain = await verifyChain({ execute }, depth === 'start' ? { last: chainAtStart } : {});
  if (!chain.sound) {
    const { firstBad } = chain;
    const why = `entry ${firstBad.seq} (${firstBad.id}): ${firstBad.why}`;
    return { state: 'damaged', why, firstBad };
  }
  if (depth === 'full') {
    const { faultOfProjections } = await import('./replayCheck.ts');
    const projections =
      applied.length === migrations.length ? await faultOfProjections(execute) : undefined;
    if (projections !== undefined) return damaged(projections);
  }
  return {
    state: 'sound',
    instanceId: await instanceOf(client, tables),
    entries: chain.entries,
    head: chain.head,
    steps: applied.length,
    counts: await countsOf(client, tables),
  };
}

async function tablesOf(client: Client): Promise<string[]> {
  const { rows } = await client.execute(
    "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name",
  );
  return rows.map((row) => String(row.name));
}

// The quick check skips the indexes; a run that did not end well, and a backup, get the whole one.
async function faultOfPages(client: Client, depth: Depth): Promise<string | undefined> {
  const isThorough = depth === 'full' || !(await endedWell(client));
  const { rows } = await client.execute(
    isThorough ? 'PRAGMA integrity_check(10)' : 'PRAGMA quick_check(10)',
  );
  const first = String(Object.values(rows[0] ?? {})[0]);
  if (first !== 'ok') return `its pages do not hold together (${first})`;
  const orphans = await client.execute('PRAGMA foreign_key_check');
  return orphans.rows.length === 0
    ? undefined
    : `${orphans.rows.length} rows of it point to rows that are not there`;
}

async function endedWell(client: Client): Promise<boolean> {
  const tables = await tablesOf(client);
  if (!tables.includes('upkeep_event')) return false;
  const { rows } = await client.execute(
    "SELECT kind FROM upkeep_event WHERE kind IN ('started', 'stopped') ORDER BY number DESC LIMIT 1",
  );
  return rows[0]?.kind === 'stopped';
}

async function countsOf(client: Client, tables: readonly string[]) {
  const counts: Record<string, number> = {};
  for (const table of tables) counts[table] = await countOf(client, table);
  return counts;
}

async function instanceOf(client: Client, tables: readonly string[]): Promise<string | null> {
  if (!tables.includes('instance')) return null;
  const { rows } = await client.execute('SELECT id FROM instance');
  return rows[0] === undefined ? null : String(rows[0].id);
}
