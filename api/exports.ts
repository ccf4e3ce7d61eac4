import { Hono } from 'hono';
import { stream } from 'hono/streaming';
import type { Database, Query } from '#db/database.ts';
import { calledBy } from '#db/reads/calledBy.ts';
import { exportEntries } from '#db/reads/history.ts';
import { overridesOn } from '#db/reads/overrides.ts';
import { listRecords, pageLimit } from '#db/reads/records.ts';
import { isKeptBySite, listSites, placesOf } from '#db/sites/sites.ts';
import { type CsvCell, csvLine, csvStart } from '#shared/csv.ts';
import { type RecordKind, recordSchemas } from '#shared/entries/entry.ts';
import { timeRemarks } from '#shared/entryTiming.ts';
import { DomainError } from '#shared/errors.ts';
import { grouped } from '#shared/grouped.ts';
import { overridesCell } from '#shared/lots/overrides.ts';
import { hasSites, type Site, siteAt } from '#shared/sites/site.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { RouteDoc } from './apiDocument.ts';
import { readers } from './auth/who.ts';
import type { Services } from './context.ts';
import { nouns } from './records.ts';

type Kinds = readonly [RecordKind, ...RecordKind[]];

const kindsOf = new Map<string, Kinds>(Object.entries(nouns));

export function exportRoutes({ database, now }: Services) {
  return new Hono()
    .get('/export/log.json', (context) => {
      attach(context.header.bind(context), 'barmbook-log.json', 'application/json; charset=utf-8');
      return stream(context, async (out) => {
        for await (const text of wholeLog(database, now())) await out.write(text);
      });
    })
    .get('/export/:file', (context) => {
      const [, noun = ''] = /^([a-z-]+)\.csv$/.exec(context.req.param('file')) ?? [];
      const kinds = kindsOf.get(noun);
      if (kinds === undefined)
        throw new DomainError(
          'not_found',
          `There is no such table: take ${[...kindsOf.keys()].map((each) => `${each}.csv`).join(', ')}.`,
        );
      attach(context.header.bind(context), `barmbook-${noun}.csv`, 'text/csv; charset=utf-8');
      return stream(context, async (out) => {
        for await (const text of table(database, kinds)) await out.write(text);
      });
    });
}

function attach(header: (name: string, value: string) => void, name: string, type: string) {
  header('content-type', type);
  header('content-disposition', `attachment; filename="${name}"`);
}

/**
 * Every record of some kinds as it stands, newest first, a column for each fact; after them the site,
 * where there are several, and what was done all the same, where yeast bears it.
 */
async function* table({ query }: Database, kinds: Kinds): AsyncGenerator<string> {
  const sites = await listSites(query);
  const columns = columnsOf(kinds, hasSites(sites));
  const isOfSites = hasSites(sites) && isKeptBySite(kinds[0]);
  const isYeast = kinds.some((kind) => bearsOverrides.has(kind));
  const more = [...(isOfSites ? ['site'] : []), ...(isYeast ? ['doneAllTheSame'] : [])];
  yield csvStart + csvLine([...columns, ...more]);
  for await (const records of pages(query, kinds)) {
    const siteOf = isOfSites ? await sitesOf(query, { records, kind: kinds[0], sites }) : undefined;
    const doneTo = isYeast ? await overridesOf(query, records) : undefined;
    const told = await withNames(query, records);
    yield told
      .map((record) =>
        csvLine([
          ...cellsOf(record, columns),
          ...(siteOf?.(record.id) ?? []),
          ...(doneTo?.(record.id) ?? []),
        ]),
      )
      .join('');
  }
}

type OfSites = { records: readonly Recorded[]; kind: RecordKind; sites: readonly Site[] };

async function sitesOf(query: Query, { records, kind, sites }: OfSites) {
  const ids = records.map(({ id }) => id);
  const places = await placesOf(query, kind, ids);
  return (id: string) => [siteAt(sites, places.get(id) ?? null)?.name];
}

/** Records of these say in one more column what was done all the same to their yeast. */
const bearsOverrides: ReadonlySet<RecordKind> = new Set([
  'freshCulture',
  'crop',
  'blend',
  'transfer',
  'ferment',
  'rack',
]);

async function overridesOf(query: Query, records: readonly Recorded[]) {
  const yeastOf = new Map(records.map((each) => [each.id, yeastIn(each)]));
  const found = grouped(await overridesOn(query, [...new Set(yeastOf.values())]), ({ on }) => on);
  return (id: string) => [overridesCell(found.get(yeastOf.get(id) ?? '') ?? [])];
}

/** Casks hold the yeast of their ferment. */
const yeastIn = (record: Recorded) => (record.kind === 'rack' ? record.fermentId : record.id);

async function* pages(query: Query, kinds: Kinds): AsyncGenerator<Recorded[]> {
  let before: number | undefined;
  for (;;) {
    const { items, next } = await listRecords(query, kinds, { limit: pageLimit, before });
    yield items;
    if (next === null) return;
    before = next;
  }
}

const own = ['id', 'kind', 'happenedAt', 'receivedAt', 'by', 'corrected'];
/** How its times fit together: the error of the device's clock, and what is to be said of it. */
const timing = ['clockFastMinutes', 'timeRemarks'];
// The site is named in a column of its own.
const aside = new Set([...own, 'supersedes', 'reason', 'siteId']);

/** A record that is named by its id is called by its name in a column before it. */
const nameColumns: ReadonlyMap<string, string> = new Map([
  ['lotId', 'lot'],
  ['fromLotId', 'fromLot'],
  ['fermentId', 'gyle'],
  ['fromFermentId', 'fromGyle'],
  ['vesselId', 'vessel'],
  ['strainId', 'strain'],
  ['plannedBrewId', 'plannedBrew'],
  ['fromBrewId', 'fromBrew'],
]);

function columnsOf(kinds: Kinds, isOfSites: boolean): string[] {
  const facts = kinds.flatMap((kind) => Object.keys(recordSchemas[kind].shape));
  const shown = facts.filter((name) => !aside.has(name) && (isOfSites || name !== 'toSiteId'));
  const named = shown.flatMap((name) => [nameColumns.get(name) ?? [], name].flat());
  return [...own, ...timing, ...new Set(named)];
}

type Facts = ReadonlyMap<string, unknown>;
type Told = { id: string; facts: Facts };

/** The facts of some records, with the names of what they name by id. */
async function withNames(query: Query, records: readonly Recorded[]): Promise<Told[]> {
  const told = records.map((record) => ({
    id: record.id,
    facts: new Map<string, unknown>(Object.entries({ ...record, ...timingOf(record) })),
  }));
  const ids = told.flatMap(({ facts }) =>
    [...nameColumns.keys()].flatMap((name) => idIn(facts, name)),
  );
  const names = await calledBy(query, [...new Set(ids)]);
  for (const { facts } of told)
    for (const [idColumn, column] of nameColumns)
      for (const id of idIn(facts, idColumn)) facts.set(column, names.get(id));
  return told;
}

function idIn(facts: Facts, name: string): string[] {
  const id = facts.get(name);
  return typeof id === 'string' ? [id] : [];
}

function cellsOf({ facts }: Told, columns: readonly string[]): CsvCell[] {
  return columns.map((name) => {
    const value = facts.get(name);
    if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean')
      return value;
    return value === undefined || value === null ? null : JSON.stringify(value);
  });
}

function timingOf(record: Recorded) {
  const { clockFastMs = null, happenedAt, receivedAt, corrected, importId } = record;
  const remarks = timeRemarks({
    happenedMs: Date.parse(happenedAt),
    receivedMs: Date.parse(receivedAt),
    clockFastMs,
    isFirstHand: !corrected && importId === undefined,
  });
  return {
    clockFastMinutes: clockFastMs === null ? null : Math.round(clockFastMs / 6_000) / 10,
    timeRemarks: remarks.length === 0 ? null : remarks.join('; '),
  };
}

/** The journal from its first entry with its seals, and every record as it stands. */
async function* wholeLog(database: Database, nowMs: number): AsyncGenerator<string> {
  yield `{"exportedAt":${JSON.stringify(new Date(nowMs).toISOString())},"entries":[`;
  let after = 0;
  for (;;) {
    const entries = await exportEntries(database.query, after, pageLimit);
    const last = entries.at(-1);
    if (last === undefined) break;
    const lines = entries.map((entry) => JSON.stringify(entry)).join(',\n');
    yield after === 0 ? `\n${lines}` : `,\n${lines}`;
    after = last.seq;
  }
  yield '\n],"records":{';
  for (const [index, [noun, kinds]] of [...kindsOf].entries()) {
    yield `${index === 0 ? '' : ','}\n${JSON.stringify(noun)}:[`;
    let isFirst = true;
    for await (const records of pages(database.query, kinds))
      for (const record of records) {
        yield `${isFirst ? '' : ','}\n${JSON.stringify(record)}`;
        isFirst = false;
      }
    yield ']';
  }
  yield '}}\n';
}

export const exportDocs: readonly RouteDoc[] = [
  {
    method: 'get',
    path: '/api/export/log.json',
    tag: 'In and out',
    who: readers,
    limit: 'export',
    summary: 'The whole log as one file: the journal with its seals, and every record as it stands',
    answers: { 200: { description: '`exportedAt`, `entries`, `records` by noun' } },
  },
  {
    method: 'get',
    path: '/api/export/{file}',
    tag: 'In and out',
    who: readers,
    limit: 'export',
    summary: 'All records of a noun as comma-separated values, such as `lots.csv`',
    description:
      'RFC 4180, UTF-8; units are in the headings. Before the id of a lot, gyle, fermenter, strain or planned brew stands its name. `clockFastMinutes` is by how much the clock of the device ran ahead as it sent the entry, `timeRemarks` what that and the time of entry leave to be said. Where there are several sites, `site` names that of each record. Lots, crops, ferments and racks end with `doneAllTheSame`: what was pitched, mixed or washed though a rule spoke against it, and why. A text that a spreadsheet would run as a formula begins with an apostrophe.',
    answers: { 200: { description: 'The file' } },
  },
];
