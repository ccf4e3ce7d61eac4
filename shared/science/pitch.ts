import { chanceBelowValue, logNormalLimits, logNormalSum } from './logNormalSum.ts';
import { bringsAtMost, lotContribution, type PitchLot } from './lotContribution.ts';
import { pitchAmounts } from './pitchAmounts.ts';
import { type Narrowing, pitchNarrowing } from './pitchNarrowing.ts';
import { type PitchStep, pitchSteps } from './pitchSteps.ts';
import { requirePositive } from './refusal.ts';

export type Wort = { volumeL: number; gravityPlato: number };
type PitchRequest = {
  wort: Wort;
  rateMillionPerMlPerPlato: number;
  lots: readonly PitchLot[];
};
export type RateRange = {
  rateMillionPerMlPerPlato: number;
  low: number;
  high: number;
  /** True when a viability was only an upper limit: the rate is this at most, and low is 0. */
  atMost: boolean;
};

export type PitchPlan = {
  viableCellsNeeded: number;
  cellsPerMlNeeded: number;
  lots: {
    id: string;
    unit: 'L' | 'kg';
    amount: number;
    low: number;
    /** Infinity when only the least amount can be told. */
    high: number;
    leftAfter: number | undefined;
    /** Share of the living cells pitched [-]. */
    share: number;
    viableCells: number;
    /** True when the brewer fixed more than is left. */
    overdrawn: boolean;
  }[];
  shortage: { cells: number; fraction: number } | undefined;
  achieved: RateRange;
  /** Least chances when achieved is the most. */
  chanceBelow: { fraction: number; chance: number }[];
  narrowing: Narrowing[];
  steps: PitchStep[];
};

/** Shares of the target for which the chance of falling below is told [-]. */
const TOLD_FRACTIONS = [0.8, 0.9] as const;

/** Smallest shortage that is one, and not the last digit of a sum [-]. */
const SHORT_FROM = 1e-9;

/**
 * Living cells that a wort needs.
 *
 *   rate 1e6 P V 1000
 *
 * @param wort  volume V [L] > 0, extract P [°P] > 0
 * @param rate  rateMillionPerMlPerPlato [million living cells/(mL °P)], > 0
 * @returns living cells [cells]
 * @throws RangeError outside the bounds above
 *
 * Ales about 0.75 (0.5 to 1), second hand after Fix. Source: general literature.
 */
export function viableCellsNeeded(wort: Wort & { rateMillionPerMlPerPlato: number }): number {
  requirePositive('viableCellsNeeded', 'rateMillionPerMlPerPlato', wort.rateMillionPerMlPerPlato);
  return wort.rateMillionPerMlPerPlato * 1e6 * platoMl('viableCellsNeeded', wort);
}

/**
 * How much of which lot to pitch into a wort, how sure that is, and what would make it surer.
 *
 *   amounts as pitchAmounts; cells pitched = sum of log-normal contributions
 *
 * @param request  wort, rate [million living cells/(mL °P)] > 0 and lots in order of use
 * @returns amounts [L or kg] with 95 % ranges, shortage [cells, -], rate achieved with its 95 % range,
 *   chance of pitching below 0.8 and 0.9 of the target, worth of further measurements, working
 * @throws RangeError as viableCellsNeeded and viableCellsPerUnit
 *
 * A viability that is only an upper limit makes amounts the least and rates the most that they can be.
 * Leaves the volume of the yeast itself out, under 1 %. Source: derived.
 */
export function pitchPlan({ wort, rateMillionPerMlPerPlato, lots }: PitchRequest): PitchPlan {
  const needed = viableCellsNeeded({ ...wort, rateMillionPerMlPerPlato });
  const named = lots.map((lot, index) => ({ ...lot, id: lot.id ?? String(index + 1) }));
  const ranges = pitchAmounts(needed, named);
  const amounts = ranges.map(({ amount }) => amount);
  const contributions = named.map((lot, index) => lotContribution(lot, amounts[index] ?? 0));
  const pitched = contributions.reduce((sum, { median }) => sum + median, 0);
  const lacking = needed - pitched;
  const sum = logNormalSum(contributions);
  const cellsPerMlNeeded = rateMillionPerMlPerPlato * 1e6 * wort.gravityPlato;
  return {
    viableCellsNeeded: needed,
    cellsPerMlNeeded,
    lots: named.map((lot, index) => {
      const { amount, low, high } = ranges[index] ?? { amount: 0, low: 0, high: 0 };
      const viableCells = contributions[index]?.median ?? 0;
      return {
        ...{ id: lot.id, unit: lot.unit, amount, low, high, viableCells },
        leftAfter: lot.available === undefined ? undefined : Math.max(0, lot.available - amount),
        share: pitched === 0 ? 0 : viableCells / pitched,
        overdrawn: lot.available !== undefined && amount > lot.available,
      };
    }),
    shortage:
      lacking > SHORT_FROM * needed ? { cells: lacking, fraction: lacking / needed } : undefined,
    achieved: rateRange(wort, pitched, logNormalLimits(sum), bringsAtMost(named, amounts)),
    chanceBelow: TOLD_FRACTIONS.map((fraction) => ({
      fraction,
      chance: chanceBelowValue(sum, fraction * needed),
    })),
    narrowing: pitchNarrowing(named, amounts),
    steps: pitchSteps({ cellsPerMl: cellsPerMlNeeded, viableCells: needed }, named, amounts),
  };
}

/**
 * The rate at which a wort was pitched, from the amounts that went in.
 *
 *   sum of amount 1000 c v s / (P V 1000 1e6)
 *
 * @param pitch  wort as viableCellsNeeded takes it; lots as viableCellsPerUnit, use [L or kg] >= 0
 * @returns rate [million living cells/(mL °P)] with its 95 % range
 * @throws RangeError as viableCellsNeeded and viableCellsPerUnit
 *
 * Source: derived.
 */
export function rateFromAmount({
  wort,
  lots,
}: {
  wort: Wort;
  lots: readonly (PitchLot & { use: number })[];
}): RateRange {
  const contributions = lots.map((lot) => lotContribution(lot, lot.use));
  const pitched = contributions.reduce((sum, { median }) => sum + median, 0);
  const atMost = bringsAtMost(
    lots,
    lots.map(({ use }) => use),
  );
  return rateRange(wort, pitched, logNormalLimits(logNormalSum(contributions)), atMost);
}

function rateRange(
  wort: Wort,
  cells: number,
  limits: { low: number; high: number },
  atMost: boolean,
): RateRange {
  const perRate = 1e6 * platoMl('rateFromAmount', wort);
  return {
    rateMillionPerMlPerPlato: cells / perRate,
    low: atMost ? 0 : limits.low / perRate,
    high: limits.high / perRate,
    atMost,
  };
}

function platoMl(functionName: string, { volumeL, gravityPlato }: Wort): number {
  requirePositive(functionName, 'volumeL', volumeL);
  requirePositive(functionName, 'gravityPlato', gravityPlato);
  return gravityPlato * volumeL * 1000;
}
