import { shareRangeWords, shareWords } from '#shared/shareWords.ts';
import type { LotStain } from '#shared/views/lots.ts';
import { generalLimits } from './limits.ts';
import { foundIn, type LotFacts, type LotRule, missing, nothing } from './lotFacts.ts';
import { housePolicy } from './rule.ts';

const stained = (applies: (now: LotStain['predictedNow'], lot: LotFacts) => boolean) => {
  return (lot: LotFacts) => {
    if (lot.stain === null || !applies(lot.stain.predictedNow, lot)) return nothing;
    const { predictedNow } = lot.stain;
    const figure = `${shareWords(predictedNow.value)} (${shareRangeWords(predictedNow)}), predicted for now`;
    return foundIn(lot, lot.stain.recordId, figure);
  };
};

const viability = {
  rule: 'viability',
  weight: 'condition',
  limit: ({ strain }: LotFacts) => `at least ${strain.minViabilityPercent} % alive`,
  ...housePolicy,
} as const;

export const viabilityRules: readonly LotRule[] = [
  {
    ...viability,
    weight: 'knowledge',
    verdict: 'test first',
    text: 'No stain yet: nobody knows how much of it is alive',
    find: ({ stain }) => (stain === null ? missing('not stained') : nothing),
  },
  {
    ...viability,
    verdict: 'past it',
    text: 'Too much of it is dead: pitching more does not make up for it',
    limit: () => `below ${generalLimits.rejectViabilityPercent} % reject`,
    source: 'correction of at most 25 %, maltster and supplier guidance on pitching',
    evidence: 'derived',
    find: stained(({ high }) => high < generalLimits.rejectViabilityPercent),
  },
  {
    ...viability,
    verdict: 'past it',
    text: 'Viability is below the limit',
    find: stained(({ high }, { strain }) => high < strain.minViabilityPercent),
  },
  {
    ...viability,
    verdict: 'test first',
    text: 'Viability may be below the limit: stain it again, and count more cells',
    find: stained(({ low }, { strain }) => low < strain.minViabilityPercent),
  },
  {
    ...viability,
    verdict: 'fit',
    text: `Viability is within the limit, though below the ${generalLimits.goodViabilityPercent} % aimed at`,
    find: stained(({ value }) => value < generalLimits.goodViabilityPercent),
  },
  {
    ...viability,
    verdict: 'fit',
    text: 'Viability is good',
    find: stained(() => true),
  },
  {
    rule: 'stale stain',
    weight: 'knowledge',
    verdict: 'test first',
    ...housePolicy,
    text: 'The stain is old: stain it again',
    limit: ({ strain }) => `at most ${strain.staleCountHours} h`,
    find: (lot) =>
      lot.stain !== null && lot.stain.ageHours > lot.strain.staleCountHours
        ? foundIn(lot, lot.stain.recordId, `${lot.stain.ageHours.toFixed(0)} h old`)
        : nothing,
  },
];

export const petiteRules: readonly LotRule[] = [
  {
    rule: 'petites',
    weight: 'condition',
    verdict: 'test first',
    text: 'Many petites: look at the line before it is pitched',
    limit: () => `at most ${generalLimits.petitePercent} %`,
    source: 'remembered practice, no source; a rise above the line’s own says more',
    evidence: 'from memory',
    find: (lot) => {
      if (lot.petites === null) return nothing;
      const { recordId, found, examined, percent: share } = lot.petites;
      return share.low > generalLimits.petitePercent
        ? foundIn(lot, recordId, `${found} of ${examined} colonies, ${shareWords(share.value)}`)
        : nothing;
    },
  },
];
