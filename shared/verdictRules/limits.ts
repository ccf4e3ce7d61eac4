import { GREATEST_CORRECTION } from '#shared/science/weakYeast.ts';

/** Limits that hold for any strain; a strain's own policy stands beside them. */
export const generalLimits = {
  /** Above this a reading asks no question. */
  goodViabilityPercent: 95,
  /** Below this no raised pitch makes up for the dead. */
  rejectViabilityPercent: 100 / GREATEST_CORRECTION,
  /** A first caution, whatever the strain's own limit. */
  cautionStorageDays: 3,
  /** Yeast this warm in store has lost condition quickly. */
  warmStoreC: 10,
  freezingC: 0,
  /** Petites at which something is done; better a rise above the strain's own. */
  petitePercent: 5,
  /** Generations before the house limit at which a line is due soon. */
  soonWithinGenerations: 2,
  /** Measures that drift for the worse at which a line is tired: one alone may be chance. */
  tiredMeasures: 2,
} as const;
