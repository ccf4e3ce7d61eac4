import { existsSync } from 'node:fs';
import { mkdir, open, readdir, readFile, rename, truncate } from 'node:fs/promises';
import { join } from 'node:path';
import type { Database } from '../database.ts';
import { faultOf, journalAfter } from '../journal/chain.ts';
import { genesisHash, type SealedRow } from '../journal/hash.ts';

type MirrorEnd = { seq: number; hash: string };

const start: MirrorEnd = { seq: 0, hash: genesisHash };
const rowsAtOnce = 500;
const namePattern = /^journal-\d{4}-\d{2}\.ndjson$/;
const fileOf = (atMs: number) => `journal-${new Date(atMs).toISOString().slice(0, 7)}.ndjson`;

async function mirrorFiles(folder: string): Promise<string[]> {
  if (!existsSync(folder)) return [];
  return (await readdir(folder)).filter((name) => namePattern.test(name)).sort();
}

/**
 * A second copy of the journal as plain text, a line an entry and a file a month, written within a
 * second of each entry. It is only ever added to.
 */
export async function openMirror(folder: string, { execute }: Pick<Database, 'execute'>) {
  await mkdir(folder, { recursive: true, mode: 0o700 });
  let end = await mirrorEnd(folder);
  let lastFile = (await mirrorFiles(folder)).at(-1) ?? '';

  const catchUp = async (): Promise<MirrorEnd> => {
    for (;;) {
      const rows = await journalAfter(execute, end.seq, rowsAtOnce);
      for (const [name, group] of byFile(rows, lastFile)) {
        await append(join(folder, name), group);
        lastFile = name;
        const last = group.at(-1);
        if (last !== undefined) end = { seq: last.seq, hash: last.hash };
      }
      if (rows.length < rowsAtOnce) return end;
    }
  };
  return { catchUp, end: () => end };
}

// A clock set back must not put a later entry into an earlier file.
function byFile(rows: readonly SealedRow[], lastFile: string): Map<string, SealedRow[]> {
  const groups = new Map<string, SealedRow[]>();
  let name = lastFile;
  for (const row of rows) {
    const own = fileOf(row.receivedMs);
    if (own > name) name = own;
    groups.set(name, [...(groups.get(name) ?? []), row]);
  }
  return groups;
}

async function append(path: string, rows: readonly SealedRow[]): Promise<void> {
  const handle = await open(path, 'a', 0o600);
  try {
    await handle.appendFile(rows.map((row) => `${JSON.stringify(row)}\n`).join(''));
    await handle.datasync();
  } finally {
    await handle.close();
  }
}

/** Where the mirror ends; a last line cut short is taken off. */
export async function mirrorEnd(folder: string): Promise<MirrorEnd> {
  const names = await mirrorFiles(folder);
  for (const name of names.reverse()) {
    const path = join(folder, name);
    const text = await readFile(path, 'utf8');
    const whole = text.slice(0, text.lastIndexOf('\n') + 1);
    if (whole.length < text.length) await truncate(path, Buffer.byteLength(whole));
    const last = whole.trimEnd().split('\n').at(-1);
    if (last === undefined || last === '') continue;
    const { seq, hash }: SealedRow = JSON.parse(last);
    return { seq, hash };
  }
  return start;
}

/** The entries of the mirror that follow a seal, as far as they follow one another. */
export async function mirroredAfter(folder: string, from: MirrorEnd): Promise<SealedRow[]> {
  const rows: SealedRow[] = [];
  let head = from.hash;
  let seq = from.seq;
  for (const name of await mirrorFiles(folder)) {
    for (const line of (await readFile(join(folder, name), 'utf8')).split('\n')) {
      const row = rowOf(line);
      if (row === undefined || row.seq <= from.seq) continue;
      if (faultOf(row, head, seq + 1) !== undefined) return rows;
      rows.push(row);
      head = row.hash;
      seq = row.seq;
    }
  }
  return rows;
}

function rowOf(line: string): SealedRow | undefined {
  try {
    // Lines from before the clock of the device was kept do not speak of it.
    return { clockFastMs: null, ...JSON.parse(line) };
  } catch {
    return undefined;
  }
}

/** Puts the mirror's files aside, for a log that goes back to before them. */
export async function setMirrorAside(folder: string, name: string): Promise<void> {
  const names = await mirrorFiles(folder);
  if (names.length === 0) return;
  const aside = join(folder, name);
  await mkdir(aside, { mode: 0o700 });
  for (const each of names) await rename(join(folder, each), join(aside, each));
}
