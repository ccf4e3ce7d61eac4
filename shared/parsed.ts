import type * as z from 'zod/mini';
import { DomainError, type FieldError } from './errors.ts';

/**
 * A value as its schema takes it.
 * @throws DomainError `invalid` that names each field and what was expected of it
 */
export function parsed<S extends z.ZodMiniType>(schema: S, value: unknown): z.output<S> {
  const result = schema.safeParse(value);
  if (result.success) return result.data;
  const errors = result.error.issues.flatMap(fieldErrors);
  throw new DomainError('invalid', errors[0]?.message ?? 'Some fields need another look.', errors);
}

function fieldErrors(issue: z.core.$ZodIssue): FieldError[] {
  const path = issue.path.map(String);
  const meant = issue.code === 'invalid_union' ? formMeant(issue.errors) : undefined;
  if (meant !== undefined)
    return meant.flatMap((within) =>
      fieldErrors({ ...within, path: [...issue.path, ...within.path] }),
    );
  if (issue.code === 'unrecognized_keys')
    return issue.keys.map((key) => ({
      path: [...path, key].join('.'),
      message: `${key} is not asked for here`,
    }));
  return [{ path: path.join('.'), message: wordsFor(issue) }];
}

/** Of several forms, the one whose keys were given: what is wrong with it says more than that none fits. */
function formMeant(
  forms: readonly (readonly z.core.$ZodIssue[])[],
): readonly z.core.$ZodIssue[] | undefined {
  const [form, ...others] = forms.filter(
    (issues) => !issues.some(({ code, path }) => code === 'unrecognized_keys' && path.length === 0),
  );
  return others.length > 0 || forms.length < 2 ? undefined : form;
}

function wordsFor(issue: z.core.$ZodIssue): string {
  if (issue.message !== 'Invalid input') return issue.message;
  const name = String(issue.path.at(-1) ?? 'The body');
  return issue.code === 'invalid_type'
    ? `${name} must be a ${issue.expected}`
    : `${name} is not valid`;
}
