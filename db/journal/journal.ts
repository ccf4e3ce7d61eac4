import type { InStatement } from '@libsql/client';
import { canonicalJson } from '#shared/canonical.ts';
import type { Entry, RecordEntry } from '#shared/entries/entry.ts';
import type { Alongside } from '#shared/entryRules/entryContext.ts';
import { refusals } from '#shared/entryRules/entryRules.ts';
import { warningsOf } from '#shared/entryRules/entryWarnings.ts';
import { timeRefusals } from '#shared/entryRules/momentRules.ts';
import { DomainError } from '#shared/errors.ts';
import type { Database, Query } from '../database.ts';
import { guarded } from '../databaseRefusal.ts';
import { project } from '../project/project.ts';
import { faultAfter, receivedAfter } from './clock.ts';
import { changeOf, entryToCorrect, findEntry, refuseOther } from './correctedEntry.ts';
import { entryContext } from './entryContext.ts';
import { filledHold } from './filledHold.ts';
import { type JournalRow, sha256 } from './hash.ts';
import { type LastRow, lastRow } from './lastRow.ts';
import { freeCode, isLotEntry, strainOf } from './newLot.ts';
import { parsedEntry } from './parsedEntry.ts';
import { refuseIfCarriedOut } from './plannedBrewFacts.ts';
import { journalInsertion, type Source, sealed } from './seal.ts';

export type Recorded = {
  id: string;
  recordId: string;
  seq: number;
  kind: Entry['kind'];
  /** What to look at again, though it was recorded. */
  warnings: readonly string[];
  /** The readable code, for an entry that makes a lot. */
  code?: string;
};

/**
 * Writes one entry down, once: the same id and facts again change nothing and answer alike.
 * @throws DomainError `conflict` for another entry under this id or an entry corrected already,
 *   `invalid` when it cannot stand beside what is recorded
 */
export async function record(
  database: Database,
  id: string,
  entry: Entry,
  source: Source,
): Promise<{ recorded: Recorded; isReplay: boolean }> {
  return database.alone(async (write) => {
    const prepared = await prepare(database.query, id, entry, source);
    if (!prepared.isReplay) await guarded(() => write(prepared.statements));
    return { recorded: answer(prepared), isReplay: prepared.isReplay };
  });
}

type Prepared = { row: JournalRow; entry: Entry; isReplay: boolean; statements: InStatement[] };

/**
 * All that writing an entry down takes, checked against what is recorded; nothing is written yet.
 * @param alongside  what comes in with it
 * @throws DomainError as `record` does
 */
export async function prepare(
  query: Query,
  id: string,
  entry: Entry,
  source: Source,
  alongside?: Alongside,
): Promise<Prepared> {
  const requestSha256 = sha256(canonicalJson(entry));
  const last = await lastRow(query, id);
  const earlier = last?.isKnown === true ? await findEntry(query, id) : undefined;
  if (earlier !== undefined) {
    await refuseOther(query, earlier, { requestSha256, actor: source.actor });
    return { row: earlier, entry: parsedEntry(earlier), isReplay: true, statements: [] };
  }
  await refuseWrongTimes(query, entry, { last, nowMs: source.receivedMs });
  const target =
    entry.supersedes === undefined ? undefined : await entryToCorrect(query, entry.supersedes);
  const recordId = target?.recordId ?? id;
  const { before, after } = await changeOf(query, entry, target);
  if (after === undefined) await refuseIfCarriedOut(query, recordId, before);
  const settled =
    after === undefined
      ? undefined
      : await settle(query, after, { ...source, recordId, before, alongside });
  const kept = settled?.entry ?? entry;
  const warnings = settled?.warnings ?? [];
  const receivedMs = receivedAfter(source.receivedMs, last?.receivedMs ?? 0);
  const sealing = { ...source, id, recordId, requestSha256, warnings, receivedMs };
  const row = sealed(kept, sealing, last);
  const projected = project({
    recordId,
    entryId: id,
    seq: row.seq,
    happenedMs: row.happenedMs,
    before,
    after: settled?.entry,
    strainId: settled?.strainId ?? null,
  });
  const statements = [journalInsertion([row]), ...projected];
  return { row, entry: kept, isReplay: false, statements };
}

async function refuseWrongTimes(
  query: Query,
  entry: Entry,
  { last, nowMs }: { last: LastRow | undefined; nowMs: number },
): Promise<void> {
  const clock = await faultAfter(query, last, nowMs);
  if (clock !== undefined) throw new DomainError(clock.code, clock.reason);
  const errors = timeRefusals(entry.happenedAt, nowMs);
  if (errors[0] !== undefined) throw new DomainError('invalid', errors[0].message, errors);
}

/** The entry as it is kept: checked against what is recorded, a lot given its code. */
async function settle(
  query: Query,
  entry: RecordEntry,
  known: {
    receivedMs: number;
    recordId: string;
    before: RecordEntry | undefined;
    alongside: Alongside | undefined;
  },
): Promise<{ entry: RecordEntry; strainId: string | null; warnings: string[] }> {
  const context = await entryContext(query, entry, known);
  const errors = refusals(entry, context);
  if (errors.length > 0)
    throw new DomainError('invalid', errors[0]?.message ?? 'This cannot be recorded.', errors);
  const warnings = warningsOf(entry, context);
  if (entry.kind === 'familyHold')
    return { entry: await filledHold(query, entry, known.before), strainId: null, warnings };
  if (!isLotEntry(entry)) return { entry, strainId: null, warnings };
  const strainId = await strainOf(query, entry);
  const earlierCode =
    known.before !== undefined && 'code' in known.before ? known.before.code : undefined;
  const code = entry.code ?? earlierCode ?? (await freeCode(query, entry, { ...known, strainId }));
  return { entry: { ...entry, code }, strainId, warnings };
}

function answer({ row, entry: kept }: Prepared): Recorded {
  return {
    id: row.id,
    recordId: row.recordId,
    seq: row.seq,
    kind: kept.kind,
    warnings: row.warnings,
    ...(kept.kind !== 'void' && isLotEntry(kept) && kept.code !== undefined
      ? { code: kept.code }
      : {}),
  };
}
