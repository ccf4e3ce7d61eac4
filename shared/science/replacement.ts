import { refuse, requireFraction, requireNotNegative } from './refusal.ts';
import { valueAt } from './valueAt.ts';

/** In any one currency. */
export type ReplacementCosts = {
  /** A fresh culture, with its laboratory time and slow first brew. */
  freshCulture: number;
  handlingPerBrew: number;
  /** Added to every brew by each generation: longer in the vessel, lost attenuation. */
  extraPerGeneration: number;
  /** A brew lost to its yeast. */
  loss: number;
};

export type ReplacementCase = {
  costs: ReplacementCosts;
  /** Chance that the 1st, 2nd, 3rd … brew from a culture is lost, the ones before it having been sound. */
  failureChance: readonly number[];
  /** Whether a lost brew also ends the culture. */
  afterLoss: 'renew' | 'carry on';
};

export type ReplacementPolicy = { brews: number; costPerBrew: number; expectedBrews: number };

/** Each input is varied by this share, one at a time. */
const SENSITIVITY_SHARE = 0.5;

/**
 * Cost per brew of renewing the culture after every N brews, for each N.
 *
 *   E[cost of a cycle] / E[brews of a cycle]
 *   = (F + sum over k to N of S_(k-1) (c + a (k - 1) + L h_k)) / sum of S_(k-1),  S_k = prod (1 - h)
 *
 * @param situation  costs >= 0, failure chances [-] 0 to 1, one for each brew to consider
 * @returns the policies, N from 1 up to the number of chances
 * @throws RangeError outside the bounds above
 *
 * Renewal-reward theorem. With "carry on", S = 1 and it is F/N + c + a(N - 1)/2 + L x mean chance.
 * Source: [Ross1996], 3.6; the costs are derived, no published model was found.
 */
export function replacementPolicies(situation: ReplacementCase): ReplacementPolicy[] {
  const { costs, failureChance, afterLoss } = situation;
  const { freshCulture, handlingPerBrew, extraPerGeneration, loss } = costs;
  for (const [name, cost] of Object.entries(costs)) {
    requireNotNegative('replacementPolicies', name, cost);
  }
  if (failureChance.length === 0)
    refuse('replacementPolicies', 'failureChance must not be empty', 0);
  let sound = 1;
  let expectedCost = freshCulture;
  let expectedBrews = 0;
  return failureChance.map((chance, k) => {
    requireFraction('replacementPolicies', 'failureChance', chance);
    expectedCost += sound * (handlingPerBrew + extraPerGeneration * k + loss * chance);
    expectedBrews += sound;
    if (afterLoss === 'renew') sound *= 1 - chance;
    return { brews: k + 1, costPerBrew: expectedCost / expectedBrews, expectedBrews };
  });
}

export const replacementInputs = [
  'freshCulture',
  'handlingPerBrew',
  'extraPerGeneration',
  'loss',
  'failureChance',
] as const;
export type ReplacementInput = (typeof replacementInputs)[number];

/**
 * The cheapest number of brews from a culture, and how far it hangs on each input.
 *
 * @param situation  as for `replacementPolicies`
 * @returns the best policy; whether it is the last one considered, so that the true best may lie beyond;
 *   and for each input half as small and half as large again: the best then, and what keeping to the
 *   present best would cost more per brew
 * @throws RangeError outside the bounds above
 *
 * Chances are held at 1. Source: as `replacementPolicies`.
 */
export function bestReplacement(situation: ReplacementCase) {
  const policies = replacementPolicies(situation);
  const best = cheapest(policies);
  const sensitivity = replacementInputs.flatMap((input) =>
    [1 - SENSITIVITY_SHARE, 1 + SENSITIVITY_SHARE].map((factor) => {
      const changed = replacementPolicies(scaled(situation, input, factor));
      const bestThen = cheapest(changed);
      const kept = valueAt(changed, best.brews - 1).costPerBrew;
      return { input, factor, best: bestThen, costOfKeeping: kept - bestThen.costPerBrew };
    }),
  );
  return { best, isAtEnd: best.brews === policies.length, policies, sensitivity };
}

/** The earliest of equals, so that rounding does not lengthen a line for nothing. */
function cheapest(policies: readonly ReplacementPolicy[]): ReplacementPolicy {
  return policies.reduce((best, policy) =>
    policy.costPerBrew < best.costPerBrew * (1 - 1e-12) ? policy : best,
  );
}

function scaled(situation: ReplacementCase, input: ReplacementInput, factor: number) {
  const { costs, failureChance } = situation;
  if (input === 'failureChance') {
    return { ...situation, failureChance: failureChance.map((p) => Math.min(1, p * factor)) };
  }
  return { ...situation, costs: { ...costs, [input]: costs[input] * factor } };
}
