import { fromFresh } from '#shared/generationWords.ts';
import type { BlockReason } from '#shared/science/planStock.ts';
import type { Supply } from './supply.ts';

/** Why a yeast cannot go into a brew, in a few words. */
export function blockWords(reason: BlockReason, { source, generation }: Supply): string {
  switch (reason) {
    case 'held':
      return `On hold: ${source.heldBecause ?? 'by its record'}`;
    case 'not ready yet':
      return 'Not yet cropped by then';
    case 'expired':
      return 'Too long in store by then';
    case 'generation too high':
      return generation === null
        ? 'Over the number of generations the house allows'
        : `It would be ${fromFresh(generation)}, more than the house allows`;
    case 'viability too low':
      return 'Too few of it alive by then';
    case 'used up':
      return 'Given to other brews';
  }
}
