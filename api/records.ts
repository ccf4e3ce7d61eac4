import { Hono } from 'hono';
import { createFactory } from 'hono/factory';
import { listRecords } from '#db/reads/records.ts';
import { listSites, scopeOf } from '#db/sites/sites.ts';
import { type RecordKind, recordSchemas } from '#shared/entries/entry.ts';
import { type JsonSchema, jsonSchema, type RouteDoc } from './apiDocument.ts';
import { readers } from './auth/who.ts';
import type { Services } from './context.ts';
import { page, recordsQuery } from './paging.ts';
import { queryOf } from './validate.ts';

/** The nouns records are listed by, and the kinds of entry that make them. */
export const nouns = {
  strains: ['strain'],
  vessels: ['vessel'],
  sites: ['site'],
  lots: ['freshCulture', 'crop', 'blend', 'transfer'],
  crops: ['crop'],
  ferments: ['ferment'],
  pitches: ['pitch'],
  readings: ['reading'],
  chills: ['chill'],
  racks: ['rack'],
  'store-readings': ['storeReading'],
  counts: ['count'],
  stains: ['stain'],
  'micro-checks': ['microCheck'],
  'micro-results': ['microResult'],
  treatments: ['treatment'],
  discards: ['discard'],
  holds: ['hold'],
  releases: ['release'],
  'family-holds': ['familyHold'],
  'family-releases': ['familyRelease'],
  media: ['medium'],
  transfers: ['transfer'],
  'planned-brews': ['plannedBrew'],
  allotments: ['allotment'],
  'fresh-culture-policies': ['freshCulturePolicy'],
} as const satisfies Record<string, readonly [RecordKind, ...RecordKind[]]>;

/** Spelt out noun by noun, so that each keeps the type of its records on the way to the pages. */
export function recordRoutes({ database }: Services) {
  const list = <K extends RecordKind>(kinds: readonly [K, ...K[]]) =>
    handlers.createHandlers(queryOf(recordsQuery), async (context) => {
      const query = context.req.valid('query');
      const at = scopeOf(
        query.site === undefined ? [] : await listSites(database.query),
        query.site,
      );
      return context.json(await listRecords(database.query, kinds, { ...page(query), at }), 200);
    });
  return new Hono()
    .get('/strains', ...list(nouns.strains))
    .get('/vessels', ...list(nouns.vessels))
    .get('/sites', ...list(nouns.sites))
    .get('/lots', ...list(nouns.lots))
    .get('/crops', ...list(nouns.crops))
    .get('/ferments', ...list(nouns.ferments))
    .get('/pitches', ...list(nouns.pitches))
    .get('/readings', ...list(nouns.readings))
    .get('/chills', ...list(nouns.chills))
    .get('/racks', ...list(nouns.racks))
    .get('/store-readings', ...list(nouns['store-readings']))
    .get('/counts', ...list(nouns.counts))
    .get('/stains', ...list(nouns.stains))
    .get('/micro-checks', ...list(nouns['micro-checks']))
    .get('/micro-results', ...list(nouns['micro-results']))
    .get('/treatments', ...list(nouns.treatments))
    .get('/discards', ...list(nouns.discards))
    .get('/holds', ...list(nouns.holds))
    .get('/releases', ...list(nouns.releases))
    .get('/family-holds', ...list(nouns['family-holds']))
    .get('/family-releases', ...list(nouns['family-releases']))
    .get('/media', ...list(nouns.media))
    .get('/transfers', ...list(nouns.transfers))
    .get('/planned-brews', ...list(nouns['planned-brews']))
    .get('/allotments', ...list(nouns.allotments))
    .get('/fresh-culture-policies', ...list(nouns['fresh-culture-policies']));
}

const handlers = createFactory();

export const recordDocs: readonly RouteDoc[] = Object.entries(nouns).map(([noun, kinds]) => ({
  method: 'get',
  path: `/api/${noun}`,
  tag: 'Records',
  who: readers,
  summary: `All ${noun.replaceAll('-', ' ')}, newest first`,
  description:
    'Each as it stands: the facts last entered, with the id of the record, of the entry in force, its place in the journal, and when it was received.',
  query: recordsQuery,
  answers: {
    200: {
      description: 'A page and the `before` of the next',
      schema: {
        type: 'object',
        required: ['items', 'next'],
        properties: {
          items: { type: 'array', items: { anyOf: kinds.map(recordSchema) } },
          next: { type: ['integer', 'null'] },
        },
      },
    },
  },
}));

function recordSchema(kind: RecordKind): JsonSchema {
  return {
    allOf: [
      jsonSchemaOpen(kind),
      {
        type: 'object',
        required: ['id', 'entryId', 'seq', 'receivedAt', 'corrected'],
        properties: {
          id: { type: 'string' },
          entryId: { type: 'string' },
          seq: { type: 'integer' },
          receivedAt: { type: 'string' },
          corrected: { type: 'boolean' },
        },
      },
    ],
  };
}

// The facts of an entry, open to the fields a record adds.
function jsonSchemaOpen(kind: RecordKind): JsonSchema {
  const { additionalProperties: _, ...open } = jsonSchema(recordSchemas[kind]);
  return open;
}
