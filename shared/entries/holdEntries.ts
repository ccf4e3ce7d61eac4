import * as z from 'zod/mini';
import { reference, text } from '#shared/fields.ts';
import { fermentId, lotId } from './entryFields.ts';
import { entrySchema } from './envelope.ts';

export const hold = entrySchema('hold', { lotId, why: text('Why', 500) });

export const release = entrySchema('release', { lotId, why: text('Why', 500) });

const mostHeld = 20_000;
const members = (label: string, of: typeof lotId) =>
  z.optional(
    z
      .array(of, { error: `${label} must be a list` })
      .check(z.maxLength(mostHeld, { error: `At most ${mostHeld} in one hold` })),
  );

/**
 * Holds a lot, or what a ferment gave, and all that comes from it: lots still in store are held,
 * ferments and their casks are marked. The lists are filled when it is written down.
 */
export const familyHold = entrySchema('familyHold', {
  lotId: z.optional(lotId),
  fermentId: z.optional(fermentId),
  why: text('Why', 500),
  lotIds: members('Lots held', lotId),
  fermentIds: members('Ferments marked', fermentId),
});

/** Lifts one such hold from all it touched. */
export const familyRelease = entrySchema('familyRelease', {
  holdId: reference('The hold'),
  why: text('Why', 500),
});
