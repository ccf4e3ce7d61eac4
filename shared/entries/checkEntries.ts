import * as z from 'zod/mini';
import { choice, moment, quantity, reference, tempC, text, whole } from '#shared/fields.ts';
import { stainNames } from '#shared/science/stains.ts';
import * as words from '#shared/words.ts';
import { chamberCount } from './chamberCount.ts';
import { cells, lotId, note } from './entryFields.ts';
import { entrySchema } from './envelope.ts';

export const count = entrySchema('count', {
  lotId,
  basis: choice('Basis', words.countBases),
  ...chamberCount,
  note,
});

export const stain = entrySchema('stain', {
  lotId,
  stain: choice('Stain', stainNames),
  live: whole('Live cells', { min: 0, max: 100_000 }),
  dead: whole('Dead cells', { min: 0, max: 100_000 }),
  note,
});

/** A medium or test of the brewery's own, or in place of the preset of that name. */
export const medium = entrySchema('medium', {
  name: text('Name of the medium', 60),
  looksFor: text('What it looks for', 120),
  reads: choice('What is read', words.plateReadings),
  readAfterDays: quantity('Read after', 'days', { above: 0, max: 60 }),
  tempC: z.optional(tempC),
  discardPerMillion: z.optional(
    quantity('Discard limit', 'per million cells', { above: 0, max: 1e6 }),
  ),
  retired: z.optional(z.boolean({ error: 'No longer used must be true or false' })),
  note,
});

export const microCheck = entrySchema('microCheck', {
  lotId,
  medium: text('Medium', 60),
  looksFor: text('What it looks for', 120),
  cellsPlated: z.optional(cells('Cells plated')),
  dueAt: moment('When to read it'),
  /** Left out: routine. */
  purpose: z.optional(choice('Why it was plated', words.checkPurposes)),
  note,
});

export const microResult = entrySchema('microResult', {
  checkId: reference('The check'),
  outcome: choice('Outcome', words.microOutcomes),
  colonies: z.optional(whole('Colonies', { min: 0, max: 100_000 })),
  /** Where a share is read, such as petites: of how many colonies looked at. */
  ofColonies: z.optional(whole('Colonies looked at', { min: 1, max: 100_000 })),
  note,
});
