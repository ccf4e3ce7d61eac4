import { Hono } from 'hono';
import { stream } from 'hono/streaming';
import type { Database } from '#db/database.ts';
import { exportEntries } from '#db/history.ts';
import { overridesOn } from '#db/overrides.ts';
import { listRecords, pageLimit } from '#db/records.ts';
import { type CsvCell, csvLine, csvStart } from '#shared/csv.ts';
import { type RecordKind, recordSchemas } from '#shared/entries/entry.ts';
import { DomainError } from '#shared/errors.ts';
import { grouped } from '#shared/grouped.ts';
import { overridesCell } from '#shared/lots/overrides.ts';
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
        throw new DomainError('not_found', `There are no records called ${noun}.`);
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

/** Every record of some kinds as it stands, newest first, a column for each fact. */
async function* table(database: Database, kinds: Kinds): AsyncGenerator<string> {
  const columns = columnsOf(kinds);
  const isYeast = kinds.some((kind) => bearsOverrides.has(kind));
  yield csvStart + csvLine(isYeast ? [...columns, 'doneAllTheSame'] : columns);
  for await (const records of pages(database, kinds)) {
    const doneTo = isYeast ? await overridesOf(database, records) : undefined;
    yield records
      .map((record) => csvLine([...cellsOf(record, columns), ...(doneTo?.(record.id) ?? [])]))
      .join('');
  }
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

async function overridesOf({ query }: Database, records: readonly Recorded[]) {
  const yeastOf = new Map(records.map((each) => [each.id, yeastIn(each)]));
  const found = grouped(await overridesOn(query, [...new Set(yeastOf.values())]), ({ on }) => on);
  return (id: string) => [overridesCell(found.get(yeastOf.get(id) ?? '') ?? [])];
}

/** Casks hold the yeast of their ferment. */
const yeastIn = (record: Recorded) => (record.kind === 'rack' ? record.fermentId : record.id);

async function* pages(database: Database, kinds: Kinds): AsyncGenerator<Recorded[]> {
  let before: number | undefined;
  for (;;) {
    const { items, next } = await listRecords(database.query, kinds, { limit: pageLimit, before });
    yield items;
    if (next === null) return;
    before = next;
  }
}

const own = ['id', 'kind', 'happenedAt', 'receivedAt', 'by', 'corrected'];
const aside = new Set([...own, 'supersedes', 'reason']);

function columnsOf(kinds: Kinds): string[] {
  const facts = kinds.flatMap((kind) => Object.keys(recordSchemas[kind].shape));
  return [...own, ...new Set(facts.filter((name) => !aside.has(name)))];
}

function cellsOf(record: Recorded, columns: readonly string[]): CsvCell[] {
  const facts = new Map<string, unknown>(Object.entries(record));
  return columns.map((name) => {
    const value = facts.get(name);
    if (typeof value === 'string' || typeof value === 'number' || typeof value === 'boolean')
      return value;
    return value === undefined || value === null ? null : JSON.stringify(value);
  });
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
    for await (const records of pages(database, kinds))
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
      'RFC 4180, UTF-8; units are in the headings. Lots, crops, ferments and racks end with `doneAllTheSame`: what was pitched, mixed or washed though a rule spoke against it, and why. A text that a spreadsheet would run as a formula begins with an apostrophe.',
    answers: { 200: { description: 'The file' } },
  },
];
