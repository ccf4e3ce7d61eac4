import { bestReplacement, type ReplacementCosts } from '#shared/science/replacement.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import { failureChances, type PastBrews } from './failureChance.ts';
import type { ReplacementChoice } from './freshView.ts';

/** Generations looked at where the house sets a limit beyond all use. */
const MOST_GENERATIONS = 60;

type Facts = {
  policy: Recorded<'freshCulturePolicy'> | null;
  past: readonly PastBrews[];
  /** Highest generation the house pitches. */
  maxGenerations: number;
  /** Generation that the next brew of the line would be pitched with; 0 without a line. */
  nextGeneration: number;
};

/** What renewing the culture costs now, later or at the limit; null while its costs are not given. */
export function replacementChoice(facts: Facts): ReplacementChoice | null {
  const costs = costsOf(facts.policy);
  if (costs === null) return null;
  const mostGeneration = Math.min(facts.maxGenerations, MOST_GENERATIONS);
  const found = failureChances(facts.past, mostGeneration, facts.policy);
  const failureChance = found.chances.map(({ chance }) => chance.value);
  const { best, isAtEnd, policies, sensitivity } = bestReplacement({
    ...{ costs, failureChance, afterLoss: 'renew' },
  });
  const keepFor = keepingCosts(costs, failureChance, {
    from: facts.nextGeneration,
    costPerBrew: best.costPerBrew,
  });
  const cheapest = keepFor.reduce((a, b) => (b.cost < a.cost * (1 - 1e-12) ? b : a));
  return { ...found, policies, best, isAtEnd, sensitivity, keepFor, bestMore: cheapest.brews };
}

function costsOf(policy: Recorded<'freshCulturePolicy'> | null): ReplacementCosts | null {
  const { freshCultureCost, lostBrewCost } = policy ?? {};
  if (freshCultureCost === undefined || lostBrewCost === undefined) return null;
  return {
    freshCulture: freshCultureCost,
    handlingPerBrew: policy?.handlingCostPerBrew ?? 0,
    extraPerGeneration: policy?.extraCostPerGeneration ?? 0,
    loss: lostBrewCost,
  };
}

/**
 * The brews that the line could still make, some of them pitched from it and the rest at the long-run
 * cost of the best renewal: every number of brews is tried.
 */
function keepingCosts(
  { handlingPerBrew, extraPerGeneration, loss }: ReplacementCosts,
  failureChance: readonly number[],
  { from, costPerBrew }: { from: number; costPerBrew: number },
): { brews: number; cost: number }[] {
  const still = failureChance.slice(from);
  let kept = 0;
  const first = { brews: 0, cost: still.length * costPerBrew };
  return [
    first,
    ...still.map((chance, index) => {
      kept += handlingPerBrew + extraPerGeneration * (from + index) + loss * chance;
      return { brews: index + 1, cost: kept + (still.length - index - 1) * costPerBrew };
    }),
  ];
}
