import * as z from 'zod/mini';
import { choice, gravitySg, quantity, reference, tempC, text, whole } from '#shared/fields.ts';
import * as words from '#shared/words.ts';
import {
  amount,
  code,
  container,
  fermentId,
  lotCode,
  lotId,
  note,
  place,
  siteId,
  strainId,
} from './entryFields.ts';
import { entrySchema } from './envelope.ts';

export const freshCulture = entrySchema('freshCulture', {
  strainId,
  origin: choice('Origin', words.freshOrigins),
  supplier: z.optional(text('Supplier or slope', 80)),
  generation: whole('Generation', { min: 0, max: 100 }),
  siteId,
  code,
  ...amount,
  container,
  place,
  note,
});

export const crop = entrySchema('crop', {
  fermentId,
  cut: choice('Cut', words.cuts),
  gravitySg: z.optional(gravitySg),
  code,
  ...amount,
  container,
  place,
  look: z.optional(text('Look', 200)),
  smell: z.optional(text('Smell', 200)),
  note,
});

export const blend = entrySchema('blend', {
  parents: z
    .array(z.strictObject({ lotId, ...amount }), { error: 'Lots blended must be a list' })
    .check(
      z.minLength(2, { error: 'A blend needs two lots or more' }),
      z.maxLength(12, { error: 'A blend takes at most 12 lots' }),
    ),
  code,
  ...amount,
  container,
  place,
  /** Why a lot on hold was mixed in all the same. */
  override: z.optional(text('The reason for mixing it in all the same', 500)),
  note,
});

/** Yeast sent to another site: a lot there of the same generation and line. */
export const transfer = entrySchema('transfer', {
  lotId,
  toSiteId: reference('The site it goes to'),
  ...amount,
  /** The sent lot's code with the site's behind it is longer than a code given by hand. */
  code: z.optional(lotCode(28)),
  container,
  place,
  note,
});

export const storeReading = entrySchema('storeReading', { lotId, tempC, place, note });

export const treatment = entrySchema('treatment', {
  lotId,
  treatment: choice('Treatment', words.treatmentKinds),
  agent: z.optional(text('Acid or agent', 60)),
  ph: z.optional(quantity('pH', '', { min: 1, max: 9 })),
  tempC: z.optional(tempC),
  minutes: z.optional(quantity('Minutes', 'minutes', { min: 0, max: 10_000 })),
  addedL: z.optional(quantity('Volume added', 'litres', { min: 0, max: 20_000 })),
  /** Why yeast that should not be washed was washed all the same. */
  override: z.optional(text('The reason for washing all the same', 500)),
  note,
});

export const discard = entrySchema('discard', { lotId, ...amount, why: text('Why', 200), note });
