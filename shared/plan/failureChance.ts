import { betaQuantile } from '#shared/science/betaFunctions.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { GenerationChance, ReplacementChoice } from './freshView.ts';

/** Brews of a strain pitched with one generation, and how many of them a plate found something in. */
export type PastBrews = { strainId: string; generation: number; brews: number; lost: number };

/** Believed before any brew is known, as brews with as many lost among them: judgements. */
export const priorBrews = { brews: 50, lost: 0.5 } as const;
/** How many brews the mean of all generations counts for in each group of them: a judgement. */
export const GROUP_WEIGHT = 20;
/** Generations taken together: one by one they are too few to tell apart. */
const GENERATIONS_PER_GROUP = 3;

/** Chance that a brew is lost to its yeast, by the generation pitched. */
export function failureChances(
  past: readonly PastBrews[],
  mostGeneration: number,
  policy: Recorded<'freshCulturePolicy'> | null,
): Pick<ReplacementChoice, 'chances' | 'chancesFrom'> {
  const generations = Array.from({ length: mostGeneration + 1 }, (_, generation) => generation);
  const sums = (of: readonly PastBrews[]) => ({
    brews: of.reduce((sum, { brews }) => sum + brews, 0),
    lost: of.reduce((sum, { lost }) => sum + lost, 0),
  });
  const { lostBrewPercent, lostBrewRisePercent = 0 } = policy ?? {};
  if (lostBrewPercent !== undefined)
    return {
      chancesFrom: 'your own figures',
      chances: generations.map((generation): GenerationChance => {
        const value = Math.min(1, (lostBrewPercent + lostBrewRisePercent * generation) / 100);
        const own = sums(past.filter((each) => each.generation === generation));
        return { generation, chance: { value, low: value, high: value }, ...own };
      }),
    };
  const all = sums(past);
  const mean = (priorBrews.lost + all.lost) / (priorBrews.brews + all.brews);
  const groupOf = (generation: number) => Math.floor(generation / GENERATIONS_PER_GROUP);
  return {
    chancesFrom: all.brews < priorBrews.brews ? 'a wide guess' : 'your own brews',
    chances: generations.map((generation): GenerationChance => {
      const own = sums(past.filter((each) => groupOf(each.generation) === groupOf(generation)));
      const a = GROUP_WEIGHT * mean + own.lost;
      const b = GROUP_WEIGHT * (1 - mean) + own.brews - own.lost;
      const chance = {
        value: a / (a + b),
        low: betaQuantile(0.025, a, b),
        high: betaQuantile(0.975, a, b),
      };
      return { generation, chance, ...own };
    }),
  };
}
