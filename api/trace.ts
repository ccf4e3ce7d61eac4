import { Hono } from 'hono';
import * as z from 'zod/mini';
import { entriesAbout } from '#db/reads/history.ts';
import { searchTraceable } from '#db/reads/searchTraceable.ts';
import { traceEvidence } from '#db/reads/trace.ts';
import { listSites } from '#db/sites/sites.ts';
import { csvFile } from '#shared/csv.ts';
import { DomainError } from '#shared/errors.ts';
import { reference, text } from '#shared/fields.ts';
import { caskDays, inTradeSinceMs } from '#shared/lineage/mattersStill.ts';
import { type Trace, traceOf } from '#shared/lineage/trace.ts';
import { traceSheet } from '#shared/lineage/traceSheet.ts';
import type { RouteDoc } from './apiDocument.ts';
import { readers } from './auth/who.ts';
import type { Services } from './context.ts';
import { queryWhole } from './queryWhole.ts';
import { queryOf } from './validate.ts';

const traceQuery = z.strictObject({
  of: reference('The record traced').check(
    z.describe('The id of a lot, a ferment, a racking, a plate or its result'),
  ),
});
/** As many of each side as the page lists. */
const usualPart = 500;
const largestPart = 5_000;
const partQuery = z.extend(traceQuery, {
  limit: z.optional(
    queryWhole(
      'limit',
      { min: 1, max: largestPart },
      `Of each side at most this many, 1 to ${largestPart}, nearest first; ${usualPart} when left out`,
    ),
  ),
  after: z.optional(
    queryWhole(
      'after',
      { min: 0, max: Number.MAX_SAFE_INTEGER },
      'Only what comes after so many of each side: the `next` of the answer before',
    ),
  ),
});
const searchQuery = z.strictObject({
  q: text('What is looked for', 60).check(
    z.describe('Part of a lot code, a gyle number or a cask batch'),
  ),
});

export function traceRoutes({ database, now }: Services) {
  return new Hono()
    .get('/trace', queryOf(partQuery), async (context) => {
      const { of, after = 0, limit = usualPart } = context.req.valid('query');
      const part = { after, limit, sinceMs: inTradeSinceMs(now()) };
      const trace: Trace = traceOf(await traceEvidence(database.query, of, part));
      return context.json(trace, 200);
    })
    .get('/trace.csv', queryOf(traceQuery), async (context) => {
      const trace = traceOf(await traceEvidence(database.query, context.req.valid('query').of));
      const { headings, rows } = traceSheet(trace, await listSites(database.query));
      return context.body(csvFile(headings, rows), 200, {
        'content-type': 'text/csv; charset=utf-8',
        'content-disposition': 'attachment; filename="trace.csv"',
      });
    })
    .get('/trace/search', queryOf(searchQuery), async (context) => {
      const items = await searchTraceable(database.query, context.req.valid('query').q);
      return context.json({ items }, 200);
    })
    .get('/ferments/:id/history', async (context) => {
      const items = await entriesAbout(database.query, 'fermentId', context.req.param('id'));
      if (items.length === 0)
        throw new DomainError('not_found', 'There is no such ferment in the log.');
      return context.json({ items }, 200);
    });
}

export const traceDocs: readonly RouteDoc[] = [
  {
    method: 'get',
    path: '/api/trace',
    tag: 'Standing',
    who: readers,
    summary: 'Everything upstream and downstream of a record, with the steps that join them',
    description: `From the record up to the fresh culture and down to every ferment, crop, lot and cask batch. \`through\` is the neighbour one step nearer to the record; \`marks\` tell what is on hold, what grew on plates, and what was pitched, mixed or washed all the same. \`counts\` are of the whole family. A large one is told in parts, nearest first; what may still be acted upon is in every part: lots in store, ferments not racked, casks racked in the last ${caskDays} days, and lots on whose plates something grew.`,
    query: partQuery,
    answers: {
      200: {
        description:
          '`of`; `counts`; `nodes` and the `edges` among them; `isWhole`: whether these are all; `next`: the `after` of the next part, null after the last; and the `holds` that touch it',
      },
    },
  },
  {
    method: 'get',
    path: '/api/trace.csv',
    tag: 'Standing',
    who: readers,
    summary: 'The whole of it as a list, one line for each lot, ferment and cask batch',
    query: traceQuery,
    answers: { 200: { description: 'Comma-separated values (RFC 4180) in UTF-8' } },
  },
  {
    method: 'get',
    path: '/api/trace/search',
    tag: 'Standing',
    who: readers,
    summary: 'Lots, ferments and cask batches whose code, gyle or batch holds some text',
    query: searchQuery,
    answers: { 200: { description: '`items`: at most 20, the latest first' } },
  },
  {
    method: 'get',
    path: '/api/ferments/{id}/history',
    tag: 'Entries',
    who: readers,
    summary: 'Every entry about a ferment, struck out ones too',
    answers: { 200: { description: '`items`, the first one first' } },
  },
];
