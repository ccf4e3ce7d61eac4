import { createHash } from 'node:crypto';
import { Hono } from 'hono';
import type { Database } from '#db/database.ts';
import { entriesToUndo, isImport, listImports } from '#db/journal/imports.ts';
import { recordAll } from '#db/journal/recordAll.ts';
import type { Account } from '#db/people/accounts.ts';
import { recordNames } from '#db/reads/recordNames.ts';
import type { SiteScope } from '#db/sites/siteScope.ts';
import { listSites, scopeOf } from '#db/sites/sites.ts';
import type { Entry } from '#shared/entries/entry.ts';
import { DomainError } from '#shared/errors.ts';
import { uuidV7Pattern } from '#shared/fields.ts';
import { draftImport, type Place, type PlacedProblem } from '#shared/imports/draftImport.ts';
import { columnOfFact } from '#shared/imports/headings.ts';
import { type ImportRequest, importRequest, undoRequest } from '#shared/imports/request.ts';
import { nameKey } from '#shared/imports/rowFacts.ts';
import { hasSites } from '#shared/sites/site.ts';
import { uuidV7 } from '#shared/uuid.ts';
import { jsonSchema, type RouteDoc } from './apiDocument.ts';
import { personOf } from './auth/caller.ts';
import type { Services } from './context.ts';
import { readSheets, type Sheet } from './readSheets.ts';
import { jsonBody } from './validate.ts';

const importLimitBytes = 2 * 1024 * 1024;
const mostListed = 100;
const sampleRows = 5;

export function importRoutes({ database, now }: Services) {
  return new Hono()
    .get('/imports', async (context) =>
      context.json({ items: await listImports(database.query, mostListed) }, 200),
    )
    .post('/imports/preview', jsonBody(importRequest, importLimitBytes), async (context) => {
      const request = context.req.valid('json');
      const id = uuidV7(now(), digest('preview'));
      const { sheets, entries, drafts, problems } = await tried(database, request, {
        id,
        account: personOf(context).account,
        nowMs: now(),
        isTrial: true,
      });
      const shown = sheets.map((sheet, index) => ({
        kind: sheet.kind,
        headings: sheet.headings,
        mapping: sheet.mapping,
        columnUnits: sheet.columnUnits,
        rows: sheet.rows.length,
        becomes: drafts
          .filter((draft) => draft.sheet === index && draft.row <= sampleRows)
          .map(({ row, entry }) => ({ row: rowNumber(sheet, row), entry })),
        problems: problems
          .filter((problem) => problem.sheet === index)
          .map((problem) => asInFile(sheet, problem)),
      }));
      return context.json({ sheets: shown, entries, isReady: problems.length === 0 }, 200);
    })
    .put('/imports/:id', jsonBody(importRequest, importLimitBytes), async (context) => {
      const id = context.req.param('id');
      if (!uuidV7Pattern.test(id))
        throw new DomainError('invalid', 'The id of an import is a version 7 UUID.', [
          { path: 'id', message: 'Make a version 7 UUID where the files are chosen' },
        ]);
      const { sheets, entries, fresh, problems } = await tried(
        database,
        context.req.valid('json'),
        { id, account: personOf(context).account, nowMs: now(), isTrial: false },
      );
      if (problems.length > 0)
        throw new DomainError(
          'invalid',
          'Nothing was brought in: some rows need another look.',
          problems.flatMap((problem) => {
            const sheet = sheets[problem.sheet];
            if (sheet === undefined) return [];
            const { row, column, message } = asInFile(sheet, problem);
            return [{ path: `sheets.${problem.sheet}.rows.${row}.${column}`, message }];
          }),
        );
      if (fresh > 0) return context.json({ id, entries }, 201);
      if ((await entriesToUndo(database.query, id)).length === 0)
        throw new DomainError(
          'conflict',
          'This import was undone: choose the files again to bring them in anew.',
        );
      return context.json({ id, entries }, 200);
    })
    .post('/imports/:id/undo', jsonBody(undoRequest), async (context) => {
      const { reason } = context.req.valid('json');
      const { account } = personOf(context);
      const id = context.req.param('id');
      if (!(await isImport(database.query, id)))
        throw new DomainError('not_found', 'There is no such import in the log.');
      const inForce = await entriesToUndo(database.query, id);
      const nowMs = now();
      const voids = inForce.map((supersedes) => ({
        id: uuidV7(nowMs, digest(`undo ${supersedes}`)),
        entry: {
          kind: 'void',
          happenedAt: new Date(nowMs).toISOString(),
          by: account.name,
          supersedes,
          reason,
        } satisfies Entry,
      }));
      const { refusals } = await recordAll(database, voids, sourceOf(account, nowMs));
      const [first] = refusals;
      if (first !== undefined)
        throw new DomainError(
          'conflict',
          `Nothing was undone: ${first.error.message} Strike out first what was recorded since.`,
        );
      return context.json({ struckOut: voids.length }, 200);
    });
}

const sourceOf = ({ userName }: Account, receivedMs: number) => ({
  receivedMs,
  actor: userName,
  via: 'import' as const,
});

type Trying = { id: string; account: Account; nowMs: number; isTrial: boolean };

async function tried(
  database: Database,
  request: ImportRequest,
  { id: importId, account, nowMs, isTrial }: Trying,
) {
  const at = await siteOf(database, request);
  const sheets = readSheets(request.sheets);
  const madeMs = Number.parseInt(importId.replaceAll('-', '').slice(0, 12), 16);
  const { drafts, problems } = draftImport(
    sheets,
    await namesIn(database, at),
    { by: account.name, siteId: at?.key ?? undefined },
    ({ sheet, row }, part) => uuidV7(madeMs, digest(`${importId} ${sheet} ${row} ${part}`)),
  );
  const ofFiles = sheets.flatMap(({ headingProblems, longRows }, sheet) => [
    ...headingProblems.map((problem) => ({ sheet, row: 0, ...problem })),
    ...longRows.map((row) => ({ sheet, row, column: '', message: longRow })),
  ]);
  if (problems.length + ofFiles.length > 0)
    return {
      sheets,
      drafts,
      entries: drafts.length,
      fresh: 0,
      problems: [...ofFiles, ...problems].sort((a, b) => a.sheet - b.sheet || a.row - b.row),
    };
  const entries = drafts.map(({ id, entry }) => ({ id, entry: { ...entry, importId } }));
  const source = sourceOf(account, nowMs);
  const { fresh, refusals } = await recordAll(database, entries, source, { isTrial });
  return {
    sheets,
    drafts,
    entries: entries.length,
    fresh,
    problems: refusals.flatMap(({ index, error }) => placed(drafts[index], error)),
  };
}

const longRow =
  'This row has more cells than there are headings: put what holds the separating mark in "quotation marks"';

/** Where a row of ours, counted from 1 below the headings, stands in the spreadsheet; 0: the headings. */
const rowNumber = ({ rowNumbers, headingRow }: Sheet, row: number) =>
  rowNumbers[row - 1] ?? headingRow;

const asInFile = (sheet: Sheet, { row, column, message }: PlacedProblem) => ({
  row: rowNumber(sheet, row),
  column: columnOfFact(sheet.kind, column),
  message,
});

function placed(place: Place | undefined, error: DomainError): PlacedProblem[] {
  if (place === undefined) return [];
  const { sheet, row } = place;
  return error.errors.length === 0
    ? [{ sheet, row, column: '', message: error.message }]
    : error.errors.map(({ path, message }) => ({ sheet, row, column: path, message }));
}

/** @throws DomainError `invalid` when no site of the log is named where there are several */
async function siteOf({ query }: Database, { siteId }: ImportRequest): Promise<SiteScope> {
  const sites = await listSites(query);
  if (sites.some(({ id }) => id === siteId) || (siteId === undefined && !hasSites(sites)))
    return scopeOf(sites, siteId);
  const message = siteId === undefined ? 'Choose the site the rows belong to' : 'No such site';
  throw new DomainError('invalid', `${message}.`, [{ path: 'siteId', message }]);
}

async function namesIn(database: Database, at: SiteScope) {
  const known = await recordNames(database.query, at);
  const byName = (items: readonly { id: string; name: string }[]) =>
    new Map(items.map(({ id, name }) => [nameKey(name), id]));
  return {
    strains: byName(known.strains),
    vessels: byName(known.vessels),
    ferments: byName(known.ferments),
    lots: byName(known.lots),
  };
}

// The same file brought in again under the same id makes the same entries, which are passed over.
const digest = (text: string) => createHash('sha256').update(text).digest();

const answer = (description: string) => ({ description });

export const importDocs: readonly RouteDoc[] = [
  {
    method: 'get',
    path: '/api/imports',
    tag: 'In and out',
    who: ['head'],
    summary: 'The imports of old records, newest first',
    answers: { 200: answer('`items`: id, when, who, entries, and how many records still stand') },
  },
  {
    method: 'post',
    path: '/api/imports/preview',
    tag: 'In and out',
    who: ['head'],
    summary: 'Try files of old records without writing anything',
    description:
      'Each file is comma-, semicolon- or tab-separated, with a line of headings. Rows may name the gyles and lots of one another.',
    request: jsonSchema(importRequest),
    answers: {
      200: answer(
        '`sheets`: headings, mapping, units that headings name, how many rows, what the first become, and the problems by row of the spreadsheet; `entries`; `isReady`',
      ),
    },
  },
  {
    method: 'put',
    path: '/api/imports/{id}',
    tag: 'In and out',
    who: ['head'],
    summary: 'Bring files of old records in, all or nothing',
    description:
      'The id is a version 7 UUID made where the files are chosen; the same files again under it change nothing.',
    request: jsonSchema(importRequest),
    answers: {
      201: answer('`id`, `entries`'),
      200: answer('All of it was brought in before, and stands; nothing was written'),
    },
  },
  {
    method: 'post',
    path: '/api/imports/{id}/undo',
    tag: 'In and out',
    who: ['head'],
    summary: 'Strike out all that an import brought in',
    request: jsonSchema(undoRequest),
    answers: { 200: answer('`struckOut`: how many records') },
  },
];
