import { mkdtemp, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import type { InStatement } from '@libsql/client';
import { type Entry, entry as entrySchema } from '#shared/entries/entry.ts';
import { DomainError } from '#shared/errors.ts';
import { parsed } from '#shared/parsed.ts';
import { type Database, openDatabase } from '../database.ts';
import { guarded } from '../databaseRefusal.ts';
import { emptying, filling } from '../project/anew.ts';
import { mostRequestBytes, requestBytes } from '../remote/staging.ts';
import { copyLog } from '../safety/copyLog.ts';
import type { SealedRow } from './hash.ts';
import { prepare } from './journal.ts';
import { journalRows, type Source } from './seal.ts';

export type Refusal = { index: number; error: DomainError };
type BatchReport = {
  /** How many entries were not in the log before. */
  fresh: number;
  refusals: Refusal[];
  isWritten: boolean;
};

const mostRefusals = 100;

/**
 * Writes many entries down in their order, all or none. They are tried one by one on a copy of the
 * log first, so that each is checked against those before it; entries written earlier are passed over.
 *
 * @param isTrial  true only tries them
 */
export async function recordAll(
  database: Database,
  entries: readonly { id: string; entry: Entry }[],
  source: Source,
  { isTrial = false } = {},
): Promise<BatchReport> {
  return database.alone((write) =>
    onCopy(database, async (copy) => {
      const statements: InStatement[] = [];
      const rows: SealedRow[] = [];
      const refusals: Refusal[] = [];
      const rackings = rackingsIn(entries);
      for (const [index, { id, entry }] of entries.entries()) {
        if (refusals.length >= mostRefusals) break;
        try {
          const prepared = await prepare(copy.query, id, parsed(entrySchema, entry), source, {
            rackedMs: rackings.get(id),
          });
          if (prepared.isReplay) continue;
          await guarded(() => copy.write(prepared.statements));
          statements.push(...prepared.statements);
          rows.push(prepared.row);
        } catch (error) {
          if (!(error instanceof DomainError)) throw error;
          refusals.push({ index, error });
        }
      }
      const isWritten = refusals.length === 0 && !isTrial;
      const isLong = !database.isLocal && requestBytes(statements) > mostRequestBytes;
      if (isWritten && rows.length > 0)
        await write(isLong ? await asTables(database, copy, rows) : statements);
      return { fresh: rows.length, refusals, isWritten };
    }),
  );
}

/** The same as whole tables, which travel in as many requests as it takes and are written at once. */
async function asTables(database: Database, copy: Database, rows: readonly SealedRow[]) {
  return [journalRows(rows), ...(await emptying(database)), ...(await filling(copy))];
}

function rackingsIn(entries: readonly { entry: Entry }[]): ReadonlyMap<string, number> {
  return new Map(
    entries.flatMap(({ entry }) =>
      entry.kind === 'rack' ? [[entry.fermentId, Date.parse(entry.happenedAt)] as const] : [],
    ),
  );
}

async function onCopy<T>(database: Database, work: (copy: Database) => Promise<T>): Promise<T> {
  const folder = await mkdtemp(join(tmpdir(), 'barmbook-trial-'));
  try {
    const file = join(folder, 'trial.db');
    await copyLog(database, file);
    const copy = await openDatabase(`file:${file}`);
    try {
      // Nothing of the copy need outlive a power cut.
      await copy.execute('PRAGMA synchronous = OFF');
      return await work(copy);
    } finally {
      await copy.close();
    }
  } finally {
    await rm(folder, { recursive: true, force: true });
  }
}
