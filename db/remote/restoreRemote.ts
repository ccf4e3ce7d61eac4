import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { DomainError } from '#shared/errors.ts';
import { type Database, openDatabase } from '../database.ts';
import { parentsFirst } from '../project/anew.ts';
import type { Backup } from '../safety/backup.ts';
import { setMirrorAside } from '../safety/mirror.ts';
import { asideNameAt, chosenBackup, type Restored, rebuiltFrom } from '../safety/restore.ts';
import { tableRows } from '../tableRows.ts';
import { inspectRemote } from './inspectRemote.ts';
import { copiesLock, type RemotePlace } from './openRemoteLog.ts';
import { stagingTableName } from './staging.ts';
import { turnTableName } from './turns.ts';

type Restoring = {
  backup?: Backup | undefined;
  withMirror: boolean;
  nowMs: number;
  newId: string;
  /** An empty folder in which the log is made before it travels. */
  scratch: string;
};

/**
 * Puts a backup, with what the mirror holds beyond it, onto an empty database server: whole or not at
 * all, and looked over there afterwards.
 * @throws Error when the server holds anything, no backup can be relied on, or what arrived is not
 *   what was sent
 */
export async function restoreRemote(place: RemotePlace, restoring: Restoring): Promise<Restored> {
  const unlock = await copiesLock(place.backupFolder, restoring.nowMs);
  if (unlock === undefined)
    throw new Error(`Another Barmbook keeps its backups in ${place.backupFolder}: stop it first.`);
  try {
    const database = await openDatabase(place.url, place.authToken);
    try {
      return await restoredOnto(database, place, restoring);
    } finally {
      await database.close();
    }
  } finally {
    await unlock();
  }
}

async function restoredOnto(
  database: Database,
  { backupFolder, mirrorFolder }: RemotePlace,
  { backup: asked, withMirror, nowMs, newId, scratch }: Restoring,
): Promise<Restored> {
  await refuseFilled(database);
  // An earlier restore may have been cut off; should it still run, its batch is refused.
  await database.write([`DELETE FROM ${stagingTableName}`]);
  const { backup, passedOver } = await chosenBackup(backupFolder, asked);
  const made = join(scratch, 'log.db');
  const { entriesOfMirror, entries, head } = await rebuiltFrom(backup, made, {
    mirrorFolder: withMirror ? mirrorFolder : undefined,
    nowMs,
    newId,
  });
  const log = await openDatabase(pathToFileURL(made).href);
  try {
    await load(database, log);
    await refuseOther(database, log, { entries, head });
  } finally {
    await log.close();
  }
  if (!withMirror && mirrorFolder !== undefined)
    await setMirrorAside(mirrorFolder, asideNameAt(nowMs));
  return { backup, passedOver, entriesOfBackup: backup.manifest.entries, entriesOfMirror, head };
}

async function refuseFilled({ execute }: Database): Promise<void> {
  const { rows } = await execute(
    `SELECT name FROM sqlite_master
     WHERE name NOT LIKE 'sqlite_%' AND name NOT LIKE 'libsql_%'
       AND tbl_name NOT IN ('${turnTableName}', '${stagingTableName}') ORDER BY name LIMIT 3`,
  );
  if (rows.length === 0) return;
  throw new Error(
    `The database on the server is not empty (it has ${rows.map(({ name }) => name).join(', ')} …); nothing was changed. A backup goes into an empty database only: make a new one there, and give its address as DATABASE_URL. If a restore was cut off just now, npm run verify tells whether all of it arrived.`,
  );
}

/** Everything in one batch, whose rows were put by before: what is cut short leaves it empty. */
async function load(database: Database, log: Database): Promise<void> {
  const { rows: objects } = await log.execute(
    "SELECT type, name, sql FROM sqlite_master WHERE sql IS NOT NULL AND name NOT LIKE 'sqlite_%'",
  );
  const made = (wanted: string) =>
    objects.filter(({ type }) => type === wanted).map(({ sql }) => String(sql));
  const tables = await Promise.all(
    (await parentsFirst(log, await tablesOf(log))).map(async (table) =>
      tableRows(table, await log.execute(`SELECT * FROM ${table}`)),
    ),
  );
  try {
    await database.alone(async (write) => {
      await refuseFilled(database);
      await write([
        ...made('table'),
        ...tables,
        ...made('index'),
        ...made('view'),
        ...made('trigger'),
      ]);
    });
  } catch (error) {
    if (!(error instanceof DomainError) || error.code !== 'unanswered') throw error;
    throw new Error(
      'The database server did not say whether the backup arrived. It arrives whole or not at all: npm run verify tells which; if it is empty, restore again.',
    );
  }
}

async function refuseOther(
  database: Database,
  log: Database,
  { entries, head }: { entries: number; head: string },
): Promise<void> {
  const report = await inspectRemote(database, 'full');
  const why =
    report.state !== 'sound'
      ? 'why' in report
        ? report.why
        : 'it is empty'
      : report.entries !== entries || report.head !== head
        ? `it ends at entry ${report.entries} instead of ${entries}`
        : await faultOfCounts(database, log);
  if (why !== undefined)
    throw new Error(
      `What arrived on the database server is not what was sent (${why}). Do not use it: restore into a new, empty database.`,
    );
}

async function faultOfCounts(database: Database, log: Database): Promise<string | undefined> {
  for (const table of await tablesOf(log)) {
    const [there, here] = await Promise.all(
      [database, log].map(({ execute }) => execute(`SELECT count(*) AS n FROM ${table}`)),
    );
    if (Number(there?.rows[0]?.n) !== Number(here?.rows[0]?.n))
      return `${table} has ${there?.rows[0]?.n} rows instead of ${here?.rows[0]?.n}`;
  }
  return undefined;
}

async function tablesOf({ execute }: Database): Promise<string[]> {
  const { rows } = await execute(
    "SELECT name FROM sqlite_master WHERE type = 'table' AND name NOT LIKE 'sqlite_%' ORDER BY name",
  );
  return rows.map(({ name }) => String(name));
}
