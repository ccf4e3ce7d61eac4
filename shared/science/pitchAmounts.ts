import { chanceBelowValue, logNormalLimits, logNormalSum } from './logNormalSum.ts';
import {
  bringsAtMost,
  lotContribution,
  type PitchLot,
  viableCellsPerUnit,
} from './lotContribution.ts';
import { requireNotNegative } from './refusal.ts';

export type LotAmount = {
  amount: number;
  low: number;
  /** Infinity when only the least amount can be told. */
  high: number;
};

const OUTSIDE_EACH_SIDE = 0.025;

/**
 * How much of each lot to take so that together they bring the living cells needed.
 *
 *   fixed amounts first, then each lot in the order given, up to what is available;
 *   amount = cells still lacking / living cells per unit
 *
 * @param viableCellsNeeded  [cells], > 0
 * @param lots  lots in order of use, as viableCellsPerUnit takes them, available and use [L or kg] >= 0
 * @returns amount of each lot [L or kg] with the 95 % range of the amount that would really complete
 *   the target; a lot fixed or used up has no range, since nothing is left to choose; where a viability
 *   is only an upper limit the range is open above
 * @throws RangeError outside the bounds above
 *
 * Errors of different lots are taken as independent. Source: derived.
 */
export function pitchAmounts(viableCellsNeeded: number, lots: readonly PitchLot[]): LotAmount[] {
  let lacking = viableCellsNeeded;
  for (const lot of lots) {
    if (lot.use !== undefined) {
      requireNotNegative('pitchAmounts', 'use', lot.use);
      lacking -= lot.use * viableCellsPerUnit(lot).median;
    }
  }
  let closing = -1;
  const amounts = lots.map((lot, index) => {
    if (lot.use !== undefined) return lot.use;
    const { median } = viableCellsPerUnit(lot);
    const available = lot.available ?? Infinity;
    if (!(available === Infinity)) requireNotNegative('pitchAmounts', 'available', available);
    const wanted = Math.max(0, lacking) / median;
    if (wanted > 0 && wanted <= available) closing = index;
    const amount = Math.min(wanted, available);
    lacking = wanted <= available ? Math.min(lacking, 0) : lacking - amount * median;
    return amount;
  });
  return amounts.map((amount, index) => {
    if (index !== closing) return { amount, low: amount, high: amount };
    const range = closingRange(viableCellsNeeded, lots, amounts, index);
    return { amount, ...range, ...(bringsAtMost(lots, amounts) ? { high: Infinity } : {}) };
  });
}

/** Amounts of the completing lot at which the target is reached with 2.5 and 97.5 % chance. */
function closingRange(
  viableCellsNeeded: number,
  lots: readonly PitchLot[],
  amounts: readonly number[],
  closing: number,
) {
  const amount = amounts[closing] ?? 0;
  const others = amounts.some((other, index) => index !== closing && other > 0);
  const lot = lots[closing];
  if (!others && lot !== undefined) {
    return logNormalLimits({ median: amount, logSd: viableCellsPerUnit(lot).logSd });
  }
  const chanceReached = (closingAmount: number) => {
    const parts = lots.map((each, index) =>
      lotContribution(each, index === closing ? closingAmount : (amounts[index] ?? 0)),
    );
    return 1 - chanceBelowValue(logNormalSum(parts), viableCellsNeeded);
  };
  return {
    low: smallestWith(chanceReached, OUTSIDE_EACH_SIDE, amount),
    high: smallestWith(chanceReached, 1 - OUTSIDE_EACH_SIDE, amount),
  };
}

/** Smallest amount whose chance reaches the level, by halving; the chance rises with the amount. */
function smallestWith(chance: (amount: number) => number, level: number, near: number): number {
  if (chance(0) >= level) return 0;
  let enough = near;
  while (chance(enough) < level) enough *= 2;
  let tooLittle = 0;
  for (let halving = 0; halving < 60; halving++) {
    const middle = (tooLittle + enough) / 2;
    if (chance(middle) >= level) enough = middle;
    else tooLittle = middle;
  }
  return enough;
}
