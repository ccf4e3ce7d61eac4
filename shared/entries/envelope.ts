import * as z from 'zod/mini';
import { moment, reference, text } from '#shared/fields.ts';

/** What every entry carries besides its own facts. */
export const envelope = {
  happenedAt: moment('When it happened'),
  by: text('Who did it', 80),
  /** The entry this one corrects; then `reason` is needed too. */
  supersedes: z.optional(reference('The entry corrected')),
  reason: z.optional(text('The reason', 500)),
  /** The import of old records that brought it in; only an import gives it. */
  importId: z.optional(reference('The import')),
};

export function entrySchema<const K extends string, S extends z.core.$ZodLooseShape>(
  kind: K,
  shape: S,
) {
  return z.strictObject({ kind: z.literal(kind), ...envelope, ...shape });
}

/** Strikes an entry out; the entry stays legible in the history. */
export const voiding = z.strictObject({
  kind: z.literal('void'),
  happenedAt: moment('When it happened'),
  by: text('Who did it', 80),
  supersedes: reference('The entry struck out'),
  reason: text('The reason', 500),
});
