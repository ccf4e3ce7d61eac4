import { type InStatement, LibsqlError } from '@libsql/client';
import { desc, eq } from 'drizzle-orm';
import { canonicalJson } from '#shared/canonical.ts';
import {
  type Entry,
  entry as entrySchema,
  type RecordEntry,
  type VoidEntry,
} from '#shared/entries/entry.ts';
import { refusals, timeRefusals, warningsOf } from '#shared/entryRules.ts';
import { DomainError } from '#shared/errors.ts';
import { type LotOrigin, lotCode, lotCodePrefix } from '#shared/lotCode.ts';
import { remembered } from '#shared/remembered.ts';
import { type EntryNow, StaleEntry } from '#shared/staleEntry.ts';
import { clockFault, receivedAfter } from './clock.ts';
import type { Database, Query } from './database.ts';
import { codesLike, entryContext } from './entryContext.ts';
import { filledHold } from './family.ts';
import { genesisHash, type JournalRow, journalHash, type SealedRow, sha256 } from './hash.ts';
import { project } from './project/project.ts';
import { ferment, journal, lot, strain } from './schema/index.ts';
import { sentCodes } from './sentLots.ts';

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
export type Source = { receivedMs: number; actor: string; via: JournalRow['via'] };

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
    return { recorded: answer(prepared.row), isReplay: prepared.isReplay };
  });
}

type Prepared = { row: JournalRow; isReplay: boolean; statements: InStatement[] };

/**
 * All that writing an entry down takes, checked against what is recorded; nothing is written yet.
 * @throws DomainError as `record` does
 */
export async function prepare(
  query: Query,
  id: string,
  entry: Entry,
  source: Source,
): Promise<Prepared> {
  const requestSha256 = sha256(canonicalJson(entry));
  const earlier = await findEntry(query, id);
  if (earlier !== undefined) {
    if (earlier.requestSha256 !== requestSha256)
      throw new DomainError('conflict', 'Another entry was already written under this id.');
    return { row: earlier, isReplay: true, statements: [] };
  }
  await refuseWrongTimes(query, entry, source.receivedMs);
  const target =
    entry.supersedes === undefined ? undefined : await entryToCorrect(query, entry.supersedes);
  const recordId = target?.recordId ?? id;
  const { before, after } = await changeOf(query, entry, target);
  const settled =
    after === undefined ? undefined : await settle(query, after, { ...source, recordId, before });
  const row = await sealed(query, settled?.entry ?? entry, {
    id,
    recordId,
    requestSha256,
    warnings: settled?.warnings ?? [],
    ...source,
  });
  const projected = project({
    recordId,
    entryId: id,
    seq: row.seq,
    happenedMs: row.happenedMs,
    before,
    after: settled?.entry,
    strainId: settled?.strainId ?? null,
  });
  return { row, isReplay: false, statements: [journalInsertion([row]), ...projected] };
}

async function refuseWrongTimes(query: Query, entry: Entry, nowMs: number): Promise<void> {
  const clock = await clockFault(query, nowMs);
  if (clock !== undefined) throw new DomainError(clock.code, clock.reason);
  const errors = timeRefusals(entry.happenedAt, nowMs);
  if (errors[0] !== undefined) throw new DomainError('invalid', errors[0].message, errors);
}

async function findEntry(query: Query, id: string): Promise<JournalRow | undefined> {
  const [row] = await query.select().from(journal).where(eq(journal.id, id));
  return row;
}

async function entryToCorrect(query: Query, id: string): Promise<JournalRow> {
  const row = await findEntry(query, id);
  if (row === undefined)
    throw new DomainError('invalid', 'There is nothing to correct under this id.', [
      { path: 'supersedes', message: 'There is no such entry in the log' },
    ]);
  const [later] = await query.select().from(journal).where(eq(journal.supersedes, id));
  if (later === undefined) return row;
  const current = await entryNow(query, row.recordId);
  throw new StaleEntry(
    `This entry was already ${current.body.kind === 'void' ? 'struck out' : 'corrected'} by ${current.by}: see how it stands now.`,
    current,
  );
}

async function entryNow(query: Query, recordId: string): Promise<EntryNow> {
  const [row] = await query
    .select()
    .from(journal)
    .where(eq(journal.recordId, recordId))
    .orderBy(desc(journal.seq))
    .limit(1);
  if (row === undefined) throw new Error(`Record ${recordId} has no entry.`);
  return {
    id: row.id,
    by: row.byName,
    happenedAt: row.happenedAt,
    receivedAt: new Date(row.receivedMs).toISOString(),
    reason: row.reason,
    body: parsedEntry(row),
  };
}

async function changeOf(query: Query, entry: Entry, target: JournalRow | undefined) {
  const before = target === undefined || target.kind === 'void' ? undefined : recordEntry(target);
  if (entry.kind === 'void') {
    if (before === undefined)
      throw new DomainError('invalid', 'This entry is struck out already.', [
        { path: 'supersedes', message: 'An entry is struck out once' },
      ]);
    return { before, after: undefined };
  }
  const kind = before?.kind ?? (target && (await lastFacts(query, target.recordId)).kind);
  if (kind !== undefined && kind !== entry.kind)
    throw new DomainError('invalid', 'A correction is of the same kind as what it corrects.', [
      { path: 'kind', message: `The entry corrected is a ${kind}` },
    ]);
  return { before, after: entry };
}

async function lastFacts(query: Query, recordId: string): Promise<RecordEntry> {
  const rows = await query
    .select()
    .from(journal)
    .where(eq(journal.recordId, recordId))
    .orderBy(desc(journal.seq));
  const row = rows.find(({ kind }) => kind !== 'void');
  if (row === undefined) throw new Error(`Record ${recordId} has no facts.`);
  return recordEntry(row);
}

/** The entry as it is kept: checked against what is recorded, a lot given its code. */
async function settle(
  query: Query,
  entry: RecordEntry,
  known: { receivedMs: number; recordId: string; before: RecordEntry | undefined },
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

type LotEntry = Extract<RecordEntry, { kind: 'freshCulture' | 'crop' | 'blend' | 'transfer' }>;

const isLotEntry = (entry: RecordEntry): entry is LotEntry =>
  entry.kind === 'freshCulture' ||
  entry.kind === 'crop' ||
  entry.kind === 'blend' ||
  entry.kind === 'transfer';

async function strainOf(query: Query, entry: LotEntry): Promise<string> {
  if (entry.kind === 'freshCulture') return entry.strainId;
  const [row] =
    entry.kind === 'crop'
      ? await query
          .select({ strainId: ferment.strainId })
          .from(ferment)
          .where(eq(ferment.id, entry.fermentId))
      : await query
          .select({ strainId: lot.strainId })
          .from(lot)
          .where(
            eq(lot.id, entry.kind === 'blend' ? (entry.parents[0]?.lotId ?? '') : entry.lotId),
          );
  if (row === undefined) throw new Error('A lot without a strain passed the rules.');
  return row.strainId;
}

async function freeCode(
  query: Query,
  entry: LotEntry,
  { recordId, strainId }: { recordId: string; strainId: string },
): Promise<string> {
  const origin = await originOf(query, entry, strainId);
  const taken = await codesLike(query, lotCodePrefix(origin), recordId);
  return lotCode(origin, (code) => taken.has(code));
}

async function originOf(query: Query, entry: LotEntry, strainId: string): Promise<LotOrigin> {
  if (entry.kind === 'transfer') return { kind: 'transfer', ...(await sentCodes(query, entry)) };
  const [owner] = await query
    .select({ code: strain.code })
    .from(strain)
    .where(eq(strain.id, strainId));
  const strainCode = owner?.code ?? '';
  return entry.kind === 'crop'
    ? { kind: 'crop', strainCode, gyle: await gyleOf(query, entry.fermentId) }
    : { kind: entry.kind, strainCode };
}

async function gyleOf(query: Query, fermentId: string): Promise<string> {
  const [row] = await query
    .select({ gyle: ferment.gyle })
    .from(ferment)
    .where(eq(ferment.id, fermentId));
  return row?.gyle ?? '';
}

type Sealing = {
  id: string;
  recordId: string;
  requestSha256: string;
  warnings: readonly string[];
} & Source;

async function sealed(query: Query, entry: Entry, sealing: Sealing): Promise<JournalRow> {
  const [head] = await query.select().from(journal).orderBy(desc(journal.seq)).limit(1);
  const { supersedes = null, reason = null } = entry;
  const row = {
    seq: (head?.seq ?? 0) + 1,
    id: sealing.id,
    kind: entry.kind,
    recordId: sealing.recordId,
    supersedes,
    reason,
    byName: entry.by,
    actor: sealing.actor,
    via: sealing.via,
    happenedAt: entry.happenedAt,
    happenedMs: Date.parse(entry.happenedAt),
    receivedMs: receivedAfter(sealing.receivedMs, head?.receivedMs ?? 0),
    requestSha256: sealing.requestSha256,
    body: canonicalJson(entry),
    warnings: sealing.warnings,
    prevHash: head?.hash ?? genesisHash,
  };
  return { ...row, hash: journalHash(row) };
}

/** One statement for any number of rows: each statement has to be prepared anew. */
export function journalInsertion(rows: readonly SealedRow[]) {
  const marks = rows.map(() => '(?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)');
  return {
    sql: `INSERT INTO journal (seq, id, kind, record_id, supersedes, reason, by_name, actor, via,
            happened_at, happened_ms, received_ms, request_sha256, body, warnings, prev_hash, hash)
          VALUES ${marks.join(', ')}`,
    args: rows.flatMap((row) => [
      row.seq,
      row.id,
      row.kind,
      row.recordId,
      row.supersedes,
      row.reason,
      row.byName,
      row.actor,
      row.via,
      row.happenedAt,
      row.happenedMs,
      row.receivedMs,
      row.requestSha256,
      row.body,
      JSON.stringify(row.warnings),
      row.prevHash,
      row.hash,
    ]),
  };
}

export function answer(row: JournalRow): Recorded {
  const kept = parsedEntry(row);
  return {
    id: row.id,
    recordId: row.recordId,
    seq: row.seq,
    kind: kept.kind,
    warnings: row.warnings,
    ...('code' in kept && kept.kind !== 'strain' && kept.code !== undefined
      ? { code: kept.code }
      : {}),
  };
}

/** Entries that screens of the present read again and again. */
const mostRemembered = 20_000;
const parsedBody = remembered(
  (body: string) => entrySchema.parse(JSON.parse(body)),
  mostRemembered,
);

/** The entry of a row. What was written never changes, so the latest are kept as they were read. */
export function parsedEntry(row: Pick<JournalRow, 'body'>): Entry {
  return parsedBody(row.body);
}

function recordEntry(row: JournalRow): RecordEntry {
  const kept = parsedEntry(row);
  if (kept.kind === 'void') throw new Error(`Entry ${row.id} is a void and holds no facts.`);
  return kept;
}

const uniqueFields: Record<string, { path: string; message: string }> = {
  ferment_gyle_at_site: { path: 'gyle', message: 'Another ferment already bears this gyle number' },
  'lot.code': { path: 'code', message: 'Another lot already bears this code' },
  'strain.code': { path: 'code', message: 'Another strain already has this short code' },
  'site.name': { path: 'name', message: 'Another site already has this name' },
  'site.code': { path: 'code', message: 'Another site already has this short code' },
  vessel_name_at_site: { path: 'name', message: 'Another fermenter already has this name' },
  'rack.ferment_id': { path: 'fermentId', message: 'This ferment was already racked' },
  'chill.ferment_id': { path: 'fermentId', message: 'This ferment was already chilled' },
  'medium.name': { path: 'name', message: 'Another medium already has this name' },
  'family_release.hold_id': { path: 'holdId', message: 'This hold is lifted already' },
  'micro_result.check_id': { path: 'checkId', message: 'This check was already read' },
};

/** Runs a write; what the database refuses is told as a person would put it. */
export async function guarded(work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    throw error instanceof LibsqlError ? (refusalOf(error.message) ?? error) : error;
  }
}

/** What the database's own refusal means to a person. */
function refusalOf(message: string): DomainError | undefined {
  const unique = /UNIQUE constraint failed: (?:index '(\w+)'|(\w+\.\w+))/.exec(message);
  const field = uniqueFields[unique?.[1] ?? unique?.[2] ?? ''];
  if (field !== undefined) return new DomainError('invalid', `${field.message}.`, [field]);
  if (message.includes('FOREIGN KEY'))
    return new DomainError(
      'conflict',
      'Other entries rest on this one (a pitch, a crop, a count …): strike those out first.',
    );
  const rule =
    /(yeast cannot descend from itself|a crop needs a ferment that was pitched|a crop was taken from this ferment: it needs its pitch)/.exec(
      message,
    )?.[1];
  return rule === undefined
    ? undefined
    : new DomainError('conflict', `${rule.slice(0, 1).toUpperCase()}${rule.slice(1)}.`);
}

export type { VoidEntry };
