import * as z from 'zod/mini';
import { amountKg, amountL, quantity, reference, text } from '#shared/fields.ts';

export const note = z.optional(text('Note', 1000));
export const place = z.optional(text('Place', 60));
export const container = z.optional(text('Container', 60));
export const lotId = reference('The lot');
export const fermentId = reference('The ferment');
export const strainId = reference('The strain');
export const vesselId = reference('The fermenter');
/** Left out: the first site, which is the only one in most breweries. */
export const siteId = z.optional(reference('The site'));
export const lotCode = (mostCharacters: number) =>
  text('Lot code', mostCharacters).check(
    z.regex(/^[A-Z0-9][A-Z0-9-]*$/, { error: 'Lot code may hold capital letters, digits and -' }),
  );
export const code = z.optional(lotCode(20));
export const amount = { amountL: z.optional(amountL), amountKg: z.optional(amountKg) };
export const percent = (label: string) => quantity(label, '%', { min: 0, max: 100 });
export const cells = (label: string) => quantity(label, 'cells', { min: 0, max: 1e18 });
