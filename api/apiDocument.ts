import * as z from 'zod/mini';
import { writersOf } from '#shared/permissions.ts';
import { requestLimits } from '#shared/requestLimits.ts';
import { limitOf } from './auth/limitOf.ts';
import { type Who, whoInWords } from './auth/who.ts';
import { problemList } from './problem.ts';

export type JsonSchema = Record<string, unknown>;

/** One route as the document tells it; the table of all routes is `apiRoutes`. */
export type RouteDoc = {
  method: 'get' | 'put' | 'post' | 'delete';
  /** With parameters in braces, as OpenAPI writes them. */
  path: string;
  tag: 'Entries' | 'Records' | 'Standing' | 'In and out' | 'Calculations' | 'People' | 'Service';
  /** Who may call it; `readers` is everyone with an account. */
  who: Who;
  /** A role at any site lets in; the site of what is written is looked at after. */
  atSite?: boolean;
  /** Asks for the password again when it was last given more than five minutes ago. */
  proof?: true;
  /** A narrower limit than that of every sign-in. */
  limit?: 'export';
  summary: string;
  description?: string;
  /** The very schema the route checks its query by. */
  query?: z.ZodMiniType<object>;
  request?: JsonSchema;
  example?: unknown;
  answers: Record<number, { description: string; schema?: JsonSchema }>;
};

export function jsonSchema(schema: z.ZodMiniType): JsonSchema {
  const { $schema: _, ...rest } = z.toJSONSchema(schema, { io: 'input', unrepresentable: 'any' });
  return rest;
}

const problemAnswer = {
  description: 'Problem details (RFC 9457), naming each field at fault',
  content: { 'application/problem+json': { schema: { $ref: '#/components/schemas/Problem' } } },
};

/** The OpenAPI 3.1 document of a set of routes. */
export function apiDocument(routes: readonly RouteDoc[], version: string) {
  const paths: Record<string, Record<string, unknown>> = {};
  for (const route of routes)
    paths[route.path] = { ...paths[route.path], [route.method]: operation(route) };
  return {
    openapi: '3.1.0',
    info: {
      title: 'Barmbook',
      version,
      description:
        'The yeast log of a small brewery. Units are in the names: L, kg, °C, SG (1.040), cells per mL. Moments are ISO 8601 with an offset.',
    },
    paths,
    components: { schemas: { Problem: problemSchema }, securitySchemes },
    'x-writers': writersOf,
    'x-request-limits': requestLimits,
  };
}

const problemSchema = {
  type: 'object',
  required: ['type', 'title', 'status', 'detail', 'code', 'errors'],
  properties: {
    type: { type: 'string' },
    title: { type: 'string' },
    status: { type: 'integer' },
    detail: { type: 'string' },
    code: { enum: problemList.map((problem) => problem.code) },
    errors: {
      type: 'array',
      items: {
        type: 'object',
        required: ['path', 'message'],
        properties: { path: { type: 'string' }, message: { type: 'string' } },
      },
    },
    current: {
      type: 'object',
      description: 'With a conflict over an entry you wrote, or correct: the entry that stands now',
    },
  },
};

function operation(route: RouteDoc) {
  return {
    tags: [route.tag],
    summary: route.summary,
    ...(route.description === undefined ? {} : { description: route.description }),
    'x-who': whoInWords(route.who),
    security: securityOf(route.who),
    parameters: [...pathParameters(route.path), ...queryParameters(route.query)],
    ...(route.request === undefined
      ? {}
      : {
          requestBody: {
            required: true,
            content: { 'application/json': { schema: route.request, example: route.example } },
          },
        }),
    responses: { ...successes(route), ...refusedForHaste(route), default: problemAnswer },
  };
}

function refusedForHaste(route: RouteDoc) {
  const name = limitOf(route);
  if (name === undefined) return {};
  const { perMinute, atOnce, words } = requestLimits[name];
  return {
    429: {
      ...problemAnswer,
      description: `More than ${perMinute} ${words} a minute, after ${atOnce} at once; nothing was saved`,
      headers: {
        'Retry-After': {
          description: 'How long to wait [s]',
          schema: { type: 'integer', minimum: 1 },
        },
      },
    },
  };
}

const securitySchemes = {
  session: {
    type: 'apiKey',
    in: 'cookie',
    name: 'barm',
    description: 'Set by signing in; `barm-4180` on a port of its own, `__Host-barm` over TLS.',
  },
  device: { type: 'http', scheme: 'bearer' },
  feed: { type: 'apiKey', in: 'query', name: 'key' },
};

function securityOf(who: Who) {
  if (who === 'anyone') return [];
  if (who === 'device') return [{ device: [] }];
  return who === 'feed key' ? [{ feed: [] }] : [{ session: [] }];
}

function successes(route: RouteDoc) {
  return Object.fromEntries(
    Object.entries(route.answers).map(([status, { description, schema }]) => [
      status,
      {
        description,
        ...(schema === undefined ? {} : { content: { 'application/json': { schema } } }),
      },
    ]),
  );
}

const uuid = { type: 'string', format: 'uuid' } as const;
const pathWords: Record<string, { description: string; schema: object }> = {
  id: { description: 'The id of the record', schema: uuid },
  session: { description: 'The id of the session', schema: uuid },
  file: { description: 'The name of the file', schema: { type: 'string' } },
};

function pathParameters(path: string) {
  return [...path.matchAll(/\{(\w+)\}/g)].map(([, name]) => ({
    name,
    in: 'path',
    required: true,
    ...pathWords[name ?? ''],
  }));
}

function queryParameters(query: RouteDoc['query']) {
  if (query === undefined) return [];
  const { properties = {}, required = [] } = z.toJSONSchema(query, { io: 'input' });
  return Object.entries(properties).flatMap(([name, property]) => {
    if (typeof property === 'boolean') return [];
    const { description, ...schema } = property;
    return { name, in: 'query', required: required.includes(name), description, schema };
  });
}
