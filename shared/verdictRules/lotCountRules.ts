import type { LotCount } from '#shared/views/lots.ts';
import { foundIn, type LotFacts, type LotRule, missing, nothing } from './lotFacts.ts';
import { housePolicy } from './rule.ts';

const counted = (applies: (count: LotCount) => boolean, figureOf = ageOf) => {
  return (lot: LotFacts) =>
    lot.count !== null && applies(lot.count)
      ? foundIn(lot, lot.count.recordId, figureOf(lot.count))
      : nothing;
};
const ageOf = ({ ageHours }: LotCount) => `${ageHours.toFixed(0)} h old`;

const count = {
  rule: 'count',
  weight: 'knowledge',
  limit: ({ strain }: LotFacts) => `a count at most ${strain.staleCountHours} h old`,
  ...housePolicy,
} as const;

export const countRules: readonly LotRule[] = [
  {
    ...count,
    verdict: 'test first',
    text: 'Not counted yet: the amount to pitch would be a guess',
    find: (lot) => (lot.count === null && lot.byParts === null ? missing('not counted') : nothing),
  },
  {
    ...count,
    verdict: 'test first',
    text: 'Not counted since it was blended: its cells are worked out from the lots in it',
    find: (lot) => (lot.count === null && lot.byParts !== null ? missing('not counted') : nothing),
  },
  {
    ...count,
    verdict: 'test first',
    text: 'The count is old',
    find: counted(({ stale }) => stale),
  },
  {
    ...count,
    verdict: 'fit',
    text: 'The count is recent',
    find: counted(({ stale }) => !stale),
  },
  {
    rule: 'clumps',
    weight: 'knowledge',
    verdict: 'test first',
    text: 'The squares differ more than chance allows: clumped or badly mixed, count again',
    limit: () => 'dispersion test, p at least 0.01',
    source: 'Student 1907, Biometrika 5:351 (what a well mixed count looks like)',
    evidence: 'published',
    find: counted(
      ({ clumped }) => clumped,
      ({ cellsCounted }) => `${cellsCounted} cells counted`,
    ),
  },
];

export const amountRules: readonly LotRule[] = [
  {
    rule: 'amount',
    weight: 'knowledge',
    verdict: 'test first',
    text: 'More was taken than was recorded: check the amounts',
    limit: () => '0 or more',
    source: 'the record itself',
    evidence: 'record',
    find: (lot) => (lot.left < 0 ? foundIn(lot, lot.id, `${lot.left} ${lot.unit} left`) : nothing),
  },
];
