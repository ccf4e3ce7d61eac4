import type { Context, ValidationTargets } from 'hono';
import { createMiddleware } from 'hono/factory';
import type * as z from 'zod/mini';
import { DomainError } from '#shared/errors.ts';
import { parsed } from '#shared/parsed.ts';
import { bodyLimitBytes, bodyOf } from './readJson.ts';

type Validated<T extends keyof ValidationTargets, S extends z.ZodMiniType> = {
  in: { [K in T]: z.input<S> };
  out: { [K in T]: z.output<S> };
};

/** Checks the JSON body against a schema, once completed; a refusal names each field. */
export function jsonBody<S extends z.ZodMiniType<object>>(
  schema: S,
  limitBytes = bodyLimitBytes,
  complete: (body: unknown, context: Context) => unknown = (body) => body,
) {
  return createMiddleware<object, string, Validated<'json', S>>(async (context, next) => {
    const body = complete(await bodyOf(context, limitBytes), context);
    context.req.addValidatedData('json', parsed(schema, body));
    await next();
  });
}

/** Checks the query; a key given twice is refused. */
export function queryOf<S extends z.ZodMiniType<object>>(schema: S) {
  return createMiddleware<object, string, Validated<'query', S>>(async (context, next) => {
    const given = Object.entries(context.req.queries());
    const twice = given.find(([, values]) => values.length > 1);
    if (twice !== undefined)
      throw new DomainError('invalid', 'A query key is given twice.', [
        { path: twice[0], message: 'Give this once' },
      ]);
    const flat = Object.fromEntries(given.map(([key, values]) => [key, values[0]]));
    context.req.addValidatedData('query', parsed(schema, flat));
    await next();
  });
}
