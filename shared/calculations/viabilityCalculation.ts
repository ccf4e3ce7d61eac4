import * as z from 'zod/mini';
import { choice, whole } from '#shared/fields.ts';
import { stainNames } from '#shared/science/stains.ts';
import { type Viability, viabilityFromStain } from '#shared/science/viability.ts';

export const viabilityRequest = z
  .strictObject({
    live: whole('Live cells', { min: 0, max: 1_000_000 }),
    dead: whole('Dead cells', { min: 0, max: 1_000_000 }),
    stain: choice('Stain', stainNames),
  })
  .check(
    z.refine(({ live, dead }) => live + dead > 0, {
      path: ['live'],
      error: 'Count one cell at least, live or dead',
    }),
  );

/** What a stain says: percent alive with its Wilson 95 % range, and how far the stain can be trusted. */
export function viabilityCalculation(request: z.output<typeof viabilityRequest>): Viability {
  return viabilityFromStain(request);
}
