import * as z from 'zod/mini';
import { gravitySg, quantity, reference, tempC, text, volumeL } from '#shared/fields.ts';
import { chamberCount } from './chamberCount.ts';
import { amount, cells, fermentId, lotId, note, strainId, vesselId } from './entryFields.ts';
import { entrySchema } from './envelope.ts';

export const ferment = entrySchema('ferment', {
  gyle: text('Gyle number', 12).check(
    z.regex(/^[A-Z0-9][A-Z0-9/-]*$/, {
      error: 'Gyle number may hold capital letters, digits, / and -',
    }),
  ),
  beer: text('Beer', 60),
  vesselId,
  strainId,
  volumeL,
  originalGravitySg: gravitySg,
  setTempC: z.optional(tempC),
  oxygenMgPerL: z.optional(quantity('Dissolved oxygen', 'mg/L', { min: 0, max: 60 })),
  zincMgPerL: z.optional(quantity('Zinc', 'mg/L', { min: 0, max: 20 })),
  fanMgPerL: z.optional(quantity('Free amino nitrogen', 'mg/L', { min: 0, max: 1000 })),
  /** The planned brew it carries out; null for none. Left out: told by its beer and day. */
  plannedBrewId: z.optional(z.nullable(reference('The planned brew'))),
  note,
});

export const pitch = entrySchema('pitch', {
  fermentId,
  lotId,
  ...amount,
  /** Viable cells the amount was expected to carry, with its 95 % range. */
  expectedViableCells: z.optional(cells('Cells expected')),
  expectedLowCells: z.optional(cells('Fewest cells expected')),
  expectedHighCells: z.optional(cells('Most cells expected')),
  /** Found over promised in the FV, where the cells expected were corrected by it. */
  slurryCorrection: z.optional(
    quantity('Correction from counts in the FV', '', { above: 0, max: 10 }),
  ),
  /** Why a lot that should not be pitched was pitched all the same. */
  override: z.optional(text('The reason for pitching all the same', 500)),
  note,
});

export const reading = entrySchema('reading', {
  fermentId,
  gravitySg: z.optional(gravitySg),
  tempC: z.optional(tempC),
  ph: z.optional(quantity('pH', '', { min: 2, max: 9 })),
  cellsPerMl: z.optional(quantity('Cells in suspension', 'cells per mL', { min: 0, max: 1e10 })),
  /** The chamber count of the cells in suspension, where there is one; in place of the figure. */
  count: z.optional(z.strictObject(chamberCount)),
  note,
});

export const chill = entrySchema('chill', { fermentId, toTempC: z.optional(tempC), note });

export const rack = entrySchema('rack', {
  fermentId,
  gravitySg: z.optional(gravitySg),
  batches: z
    .array(text('Cask batch', 40), { error: 'Cask batches must be a list' })
    .check(z.maxLength(60, { error: 'At most 60 cask batches in one racking' })),
  note,
});
