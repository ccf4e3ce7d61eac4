import { existsSync, readFileSync } from 'node:fs';
import type { Database } from '../database.ts';
import { writeWhole } from '../safety/safeFiles.ts';
import { StartRefusal } from './startRefusal.ts';

export type Instance = { id: string; createdMs: number };

const markerFile = (file: string) => `${file}.instance.json`;

/** Which log stood here: kept beside the file, so that its loss or exchange is noticed. */
export function readMarker(file: string): Instance | undefined {
  const path = markerFile(file);
  if (!existsSync(path)) return undefined;
  const broken = new StartRefusal('unusable', `The marker ${path} cannot be read.`);
  try {
    const { id, createdMs }: { id?: unknown; createdMs?: unknown } = JSON.parse(
      readFileSync(path, 'utf8'),
    );
    if (typeof id !== 'string' || typeof createdMs !== 'number') throw broken;
    return { id, createdMs };
  } catch {
    throw broken;
  }
}

export async function writeMarker(file: string, instance: Instance): Promise<void> {
  await writeWhole(markerFile(file), `${JSON.stringify(instance)}\n`);
}

/** The identity in the database; a new one is given to a database that has none. */
export async function instanceOf(database: Database, ifNone: Instance): Promise<Instance> {
  await database.write([
    {
      sql: 'INSERT INTO instance SELECT 1, ?, ? WHERE NOT EXISTS (SELECT 1 FROM instance)',
      args: [ifNone.id, ifNone.createdMs],
    },
  ]);
  const { rows } = await database.execute('SELECT id, created_ms FROM instance');
  return { id: String(rows[0]?.id), createdMs: Number(rows[0]?.created_ms) };
}

/** A write that changes nothing: that it succeeds is the only proof that a fault is over. */
export const proveWriting = ({ write }: Pick<Database, 'write'>) =>
  write(['UPDATE instance SET created_ms = created_ms']);
