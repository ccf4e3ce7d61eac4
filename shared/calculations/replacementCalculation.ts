import * as z from 'zod/mini';
import { choice, quantity } from '#shared/fields.ts';
import { bestReplacement } from '#shared/science/replacement.ts';
import { listOf } from './series.ts';

const cost = (label: string) => quantity(label, 'in any one currency', { min: 0, max: 1e9 });
const chance = quantity('A chance', '(0.02 is 2 %)', { min: 0, max: 1 });
const afterLosses = ['carry on', 'renew'] as const;

/** What a fresh culture, a brew and a lost brew cost, and how likely a loss is, generation by generation. */
export const replacementRequest = z.strictObject({
  costs: z.strictObject(
    {
      freshCulture: cost('A fresh culture'),
      handlingPerBrew: z.optional(cost('Handling per brew')),
      extraPerGeneration: z.optional(cost('Extra per generation')),
      lostBrew: z.optional(cost('A lost brew')),
    },
    {
      error:
        'costs must hold freshCulture, and may hold handlingPerBrew, extraPerGeneration and lostBrew',
    },
  ),
  /** Of the 1st, 2nd, 3rd … brew from a culture, those before it having been sound. */
  failureChance: listOf('failureChance', chance, { least: 1, most: 500 }),
  /** Whether a lost brew also ends the culture. */
  afterLoss: z.optional(choice('afterLoss', afterLosses)),
});

type ReplacementReply = ReturnType<typeof bestReplacement> & { warnings: string[] };

/** Cost per brew of renewing the culture after every number of brews, the cheapest, and how firm it is. */
export function replacementCalculation(
  request: z.output<typeof replacementRequest>,
): ReplacementReply {
  const { costs, failureChance, afterLoss = 'carry on' } = request;
  const { freshCulture, handlingPerBrew = 0, extraPerGeneration = 0, lostBrew = 0 } = costs;
  const found = bestReplacement({
    costs: { freshCulture, handlingPerBrew, extraPerGeneration, loss: lostBrew },
    failureChance,
    afterLoss,
  });
  const warnings = found.isAtEnd
    ? [
        'The cheapest is the longest looked at: a longer one may be cheaper still. Give more chances.',
      ]
    : [];
  return { ...found, warnings };
}
