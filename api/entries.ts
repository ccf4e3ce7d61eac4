import { type Context, Hono } from 'hono';
import * as z from 'zod/mini';
import { record } from '#db/journal/journal.ts';
import { getEntry, listEntries, recordHistory } from '#db/reads/history.ts';
import { authorHeader } from '#shared/authorHeader.ts';
import { entry } from '#shared/entries/entry.ts';
import { sentAtHeader } from '#shared/entryTiming.ts';
import { DomainError } from '#shared/errors.ts';
import { moment, uuidV7Pattern } from '#shared/fields.ts';
import { faultOfName } from '#shared/nameText.ts';
import { writers } from '#shared/permissions.ts';
import { jsonSchema, type RouteDoc } from './apiDocument.ts';
import { personOf } from './auth/caller.ts';
import { refuseUnlessMay } from './auth/refuseUnlessMay.ts';
import { readers } from './auth/who.ts';
import type { Services } from './context.ts';
import { page, pageQuery } from './paging.ts';
import { RequestError } from './problem.ts';
import { bodyLimitBytes } from './readJson.ts';
import { jsonBody, queryOf } from './validate.ts';

export function entryRoutes({ database, now }: Services) {
  return new Hono()
    .put('/entries/:id', jsonBody(entry, bodyLimitBytes, withOwnName), async (context) => {
      const id = context.req.param('id');
      if (!uuidV7Pattern.test(id))
        throw new DomainError('invalid', 'The id of an entry is a version 7 UUID.', [
          { path: 'id', message: 'Make a version 7 UUID where the entry is typed' },
        ]);
      const given = context.req.valid('json');
      if (given.kind !== 'void' && given.importId !== undefined)
        throw new DomainError('invalid', 'Only an import gives importId.', [
          { path: 'importId', message: 'Leave this out' },
        ]);
      const { account } = personOf(context);
      refuseOtherAuthor(context.req.header(authorHeader), account.id);
      refuseHiddenName(given.by, account.name);
      await refuseUnlessMay(database, { account, entry: given, nowMs: now() });
      const receivedMs = now();
      const clockFastMs = clockFastBy(context.req.header(sentAtHeader), receivedMs);
      const source = { receivedMs, actor: account.userName, via: 'web' as const, clockFastMs };
      const { recorded, isReplay } = await record(database, id, given, source);
      return context.json(recorded, isReplay ? 200 : 201);
    })
    .get('/entries', queryOf(pageQuery), async (context) =>
      context.json(await listEntries(database.query, page(context.req.valid('query'))), 200),
    )
    .get('/entries/:id', async (context) =>
      context.json(await getEntry(database.query, context.req.param('id')), 200),
    )
    .get('/records/:id/history', async (context) => {
      const items = await recordHistory(database.query, context.req.param('id'));
      if (items.length === 0)
        throw new DomainError('not_found', 'There is no such record in the log.');
      return context.json({ items }, 200);
    });
}

/** Who does not say who did it, did it; whoever writes it down is kept either way. */
function withOwnName(body: unknown, context: Context): unknown {
  const isWithout = typeof body === 'object' && body !== null && !('by' in body);
  return isWithout && !Array.isArray(body) ? { ...body, by: personOf(context).account.name } : body;
}

/** Who did it is named as anyone may be, or as the account is, whatever it is called. */
function refuseHiddenName(by: string, ownName: string): void {
  const message = by === ownName ? undefined : faultOfName('Who did it', by);
  if (message !== undefined)
    throw new DomainError('invalid', `${message}.`, [{ path: 'by', message }]);
}

/** A page may still hold what was typed before someone else signed in beside it. */
function refuseOtherAuthor(author: string | undefined, accountId: string): void {
  if (author !== undefined && author !== accountId)
    throw new RequestError(
      'other_author',
      'This entry waits for whoever made it: it is sent when they are signed in again.',
    );
}

const sentAtSchema = moment('What the clock of the device shows');

/** By how much the sender's clock runs ahead, to about the second a line takes; undefined: not told. */
function clockFastBy(sentAt: string | undefined, receivedMs: number): number | undefined {
  if (sentAt === undefined) return undefined;
  const read = sentAtSchema.safeParse(sentAt);
  const fastMs = Date.parse(sentAt) - receivedMs;
  if (read.success && Number.isSafeInteger(fastMs)) return fastMs;
  const message = read.error?.issues[0]?.message ?? 'This is no moment';
  throw new DomainError('invalid', `${message}.`, [{ path: sentAtHeader, message }]);
}

const receipt = jsonSchema(
  z.object({
    id: z.string(),
    recordId: z.string(),
    seq: z.int(),
    kind: z.string(),
    warnings: z.array(z.string()),
    code: z.optional(z.string()),
  }),
);

const journalEntry = jsonSchema(
  z.object({
    id: z.string(),
    seq: z.int(),
    recordId: z.string(),
    kind: z.string(),
    supersedes: z.nullable(z.string()),
    reason: z.nullable(z.string()),
    by: z.string(),
    enteredBy: z.object({ via: z.string(), name: z.string() }),
    happenedAt: z.string(),
    receivedAt: z.string(),
    clockFastMs: z.nullable(z.int()),
    timeRemarks: z.array(z.string()),
    hash: z.string(),
    body: z.unknown(),
  }),
);

const entryList = { type: 'object', properties: { items: { type: 'array', items: journalEntry } } };

export const entryDocs: readonly RouteDoc[] = [
  {
    method: 'put',
    path: '/api/entries/{id}',
    tag: 'Entries',
    who: writers,
    atSite: true,
    summary: 'Write one entry down',
    description:
      'The only way to write. The id is a version 7 UUID made where the entry is typed; sending the same id and body again changes nothing. A correction repeats the whole entry with `supersedes` (the entry now in force) and `reason`; `kind: "void"` strikes an entry out. `by` is who did it, your own name when left out; who wrote it down is kept beside it. Other facts under an id you used are a conflict, which carries as `current` what stands now: keep that, or correct it. An id someone else used is a conflict that tells nothing. An entry that waited on a device bears the account it was made under in the header `barmbook-author`, and is refused while another is signed in. The header `barmbook-sent-at` says what the clock of the device shows as it sends (ISO, with offset): its error is kept with the entry, and told where it is more than 2 minutes.',
    request: jsonSchema(entry),
    example: {
      kind: 'reading',
      happenedAt: '2026-03-01T09:30:00Z',
      by: 'Ines',
      fermentId: '0195502c-0000-7000-8000-000000000001',
      gravitySg: 1.021,
      tempC: 20.5,
    },
    answers: {
      201: { description: 'Written; a lot is answered with its code', schema: receipt },
      200: { description: 'Already written with the same content', schema: receipt },
    },
  },
  {
    method: 'get',
    path: '/api/entries',
    tag: 'Entries',
    who: readers,
    summary: 'The journal, newest entry first',
    query: pageQuery,
    answers: { 200: { description: 'A page and the `before` of the next', schema: entryList } },
  },
  {
    method: 'get',
    path: '/api/entries/{id}',
    tag: 'Entries',
    who: readers,
    summary: 'One entry as it was written',
    answers: { 200: { description: 'The entry', schema: journalEntry } },
  },
  {
    method: 'get',
    path: '/api/records/{id}/history',
    tag: 'Entries',
    who: readers,
    summary: 'Every entry about one record, the first one first',
    answers: { 200: { description: 'The entries', schema: entryList } },
  },
];
