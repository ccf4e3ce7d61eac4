import type { Holding } from '#shared/lots/holding.ts';
import type { VerdictWord } from '#shared/verdict.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Found, Rule } from './rule.ts';

export type LotFacts = Omit<LotStanding, 'verdict'> & { holdings: readonly Holding[] };
export type LotRule = Rule<LotFacts, VerdictWord>;

/** A figure with the record it stands in, on the page of its lot. */
export const foundIn = (lot: LotFacts, recordId: string, figure: string): Found[] => [
  { figure, recordId, href: `/yeast/${lot.id}#entry-${recordId}` },
];

export const nothing: readonly Found[] = [];
/** What nobody did, in words; there is no record of it. */
export const missing = (figure: string): Found[] => [{ figure, recordId: null, href: null }];
