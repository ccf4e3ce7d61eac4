import type { PropagationStep } from '#shared/science/propagation.ts';
import type { ReplacementInput, ReplacementPolicy } from '#shared/science/replacement.ts';
import type { Ranged, Recorded, StrainView } from '#shared/views/recorded.ts';

const freshDrivers = ['a shortage', 'the line is due', 'the generation limit'] as const;
type FreshDriver = (typeof freshDrivers)[number];

/** A step of a propagation with its moments. */
export type DatedStep = Pick<PropagationStep, 'volumeL' | 'endingCellsPerMl'> & {
  /** Over the volume before it; left out for the first, which is seeded from the slope. */
  stepRatio?: number | undefined;
  startingCellsPerMl?: number | undefined;
  startAt: string;
  endAt: string;
};

/** When fresh culture of a strain is wanted, when to order or wake it, and what it saves. */
export type FreshNeed = {
  strain: StrainView;
  policy: Recorded<'freshCulturePolicy'> | null;
  comesFrom: 'slope' | 'bought';
  /** Null when neither plan nor line asks for any. */
  need: {
    because: FreshDriver;
    onDay: string;
    /** The brew that needs it first, where there is one. */
    brewId: string | null;
    beer: string | null;
    neededCells: number | null;
    /** Every limit that bites, the earliest first. */
    limits: { driver: FreshDriver; onDay: string; text: string }[];
    startBy: string;
    leadDays: number;
    isLate: boolean;
    /** When it can be there if it is started today; the steps are dated for it. */
    earliestDay: string;
    /** The day for which it is ordered or started already. */
    expectedOn: string | null;
    steps: DatedStep[];
    propagationL: number | null;
  } | null;
  line: { id: string; code: string; generation: number; daysPerGeneration: number | null } | null;
  cost: ReplacementChoice | null;
};

export type GenerationChance = {
  generation: number;
  chance: Ranged;
  brews: number;
  lost: number;
};

export type ReplacementChoice = {
  chances: GenerationChance[];
  chancesFrom: 'your own figures' | 'your own brews' | 'a wide guess';
  policies: ReplacementPolicy[];
  best: ReplacementPolicy;
  isAtEnd: boolean;
  sensitivity: {
    input: ReplacementInput;
    factor: number;
    best: ReplacementPolicy;
    costOfKeeping: number;
  }[];
  /** Cost of the brews the line could still make, if it is renewed after so many more of them. */
  keepFor: { brews: number; cost: number }[];
  /** The cheapest of these. */
  bestMore: number;
};
