import type { Context, ValidationTargets } from 'hono';
import { createMiddleware } from 'hono/factory';
import type * as z from 'zod/mini';
import { DomainError, type FieldError } from '#shared/errors.ts';
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

export function parsed<S extends z.ZodMiniType>(schema: S, value: unknown): z.output<S> {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  const errors = result.error.issues.flatMap(fieldErrors);
  throw new DomainError('invalid', errors[0]?.message ?? 'Some fields need another look.', errors);
}

function fieldErrors(issue: z.core.$ZodIssue): FieldError[] {
  const path = issue.path.map(String);
  if (issue.code === 'unrecognized_keys')
    return issue.keys.map((key) => ({
      path: [...path, key].join('.'),
      message: `${key} is not a field of this entry`,
    }));
  return [{ path: path.join('.'), message: wordsFor(issue) }];
}

function wordsFor(issue: z.core.$ZodIssue): string {
  if (issue.message !== 'Invalid input') return issue.message;
  const name = String(issue.path.at(-1) ?? 'The body');
  return issue.code === 'invalid_type'
    ? `${name} must be a ${issue.expected}`
    : `${name} is not valid`;
}
