import * as z from 'zod/mini';
import { quantity, whole } from '#shared/fields.ts';
import { petitePercent } from '#shared/lots/petites.ts';
import { contaminantsPerMillion } from '#shared/science/contaminants.ts';
import type { Ranged } from '#shared/views/recorded.ts';

/** Colonies among the cells plated, or, with `ofColonies`, among the colonies looked at. */
export const plateRequest = z
  .strictObject({
    colonies: whole('Colonies', { min: 0, max: 100_000 }),
    cellsPlated: z.optional(quantity('Cells plated', 'cells', { min: 1, max: 1e12 })),
    ofColonies: z.optional(whole('Colonies looked at', { min: 1, max: 100_000 })),
  })
  .check((context) => {
    const { colonies, cellsPlated, ofColonies } = context.value;
    const refuse = (path: string, message: string) =>
      context.issues.push({ code: 'custom', input: context.value, path: [path], message });
    if ((cellsPlated === undefined) === (ofColonies === undefined))
      refuse(
        'cellsPlated',
        'Give cellsPlated for what grew of so many cells, or ofColonies for a share of colonies',
      );
    if (ofColonies !== undefined && colonies > ofColonies)
      refuse('colonies', 'More were found than were looked at: change them over');
  });

type PlateReply = {
  /** Contaminants per million cells, or petites in a hundred colonies. */
  per: 'million cells' | 'hundred colonies';
} & Ranged & {
    /** None was found: the upper limit is all that is known. */
    onlyUpperLimit: boolean;
  };

/** What a plate says, with exact 95 % limits. */
export function plateCalculation({
  colonies,
  cellsPlated,
  ofColonies,
}: z.output<typeof plateRequest>): PlateReply {
  const onlyUpperLimit = colonies === 0;
  return ofColonies === undefined
    ? {
        per: 'million cells',
        ...contaminantsPerMillion(colonies, cellsPlated ?? Number.NaN),
        onlyUpperLimit,
      }
    : { per: 'hundred colonies', ...petitePercent(colonies, ofColonies), onlyUpperLimit };
}
