import type { Plan } from './planAllocation.ts';
import { refuse } from './refusal.ts';

/**
 * Refuses a plan that nothing could be allotted in.
 *
 * @param plan  brews with cells [cells] > 0, lots and crops with cells and loss [1/h] >= 0, each id once
 * @throws RangeError for an id used twice, an unknown brew, or a number outside its bounds
 *
 * Source: own rule.
 */
export function requireSoundPlan(plan: Plan): void {
  const supplies = [...plan.lots, ...plan.crops];
  for (const list of [plan.brews, supplies]) {
    if (new Set(list.map(({ id }) => id)).size !== list.length) {
      refuse('allocatePlan', 'each id must be used once', list.map(({ id }) => id).join());
    }
  }
  for (const { neededCells, leastCells = neededCells, atHours, id, from = [] } of plan.brews) {
    if (!(neededCells > 0 && neededCells < Infinity && Number.isFinite(atHours))) {
      refuse('allocatePlan', 'a brew must have cells > 0 and a time', id);
    }
    if (!(leastCells > 0 && leastCells <= neededCells)) {
      refuse('allocatePlan', 'leastCells must be > 0 and at most what is needed', id);
    }
    if (from.some(({ cells = 1 }) => !(cells > 0))) {
      refuse('allocatePlan', 'an amount set by hand must be > 0', id);
    }
  }
  for (const { viableCells, readyAtHours, expiresAtHours, lossPerHour = 0, id } of supplies) {
    const isSound = viableCells >= 0 && viableCells < Infinity && lossPerHour >= 0;
    if (!(isSound && readyAtHours <= expiresAtHours)) {
      refuse(
        'allocatePlan',
        'a lot must have cells and loss >= 0 and expire after it is ready',
        id,
      );
    }
  }
  const brewIds = new Set(plan.brews.map(({ id }) => id));
  for (const { fromBrewId } of plan.crops) {
    if (!brewIds.has(fromBrewId)) refuse('allocatePlan', 'fromBrewId must be planned', fromBrewId);
  }
}
