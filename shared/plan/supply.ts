import type { LotInStore } from '#shared/science/planAllocation.ts';
import { type LossRate, survivalAfter } from '#shared/science/storage.ts';
import type { Ranged } from '#shared/views/recorded.ts';
import type { PlanSource } from './planView.ts';

/** Yeast a brew may be fed from: as the allocator takes it, as the page shows it, and on a later day. */
export type Supply = {
  /** Living cells and viability when ready; the generation of a planned crop is not known yet. */
  stock: Omit<LotInStore, 'generation'>;
  generation: number | null;
  /** The planned brew whose crop it is. */
  fromBrewId?: string;
  source: Omit<PlanSource, 'slurry' | 'generation' | 'sharePlanned' | 'chanceEnough' | 'toKeep'>;
  /** Spread of its living cells at a moment: standard deviation of the logarithm. */
  logSdAt: (atMs: number) => number;
  /** Share alive at a moment [%]. */
  alivePercentAt: (atMs: number) => Ranged;
  /** When it was, or will be, taken. */
  takenMs: number;
  usualRatio: Ranged | null;
};

/** First-order loss of living cells at a store temperature [1/h], by the same function as a pitch. */
export const lossPerHour = (tempC: number, rate: LossRate) =>
  -Math.log(survivalAfter([{ hours: 1, tempC }], rate).fraction);
