import { dayWords } from '#shared/dayWords.ts';
import type { Holding } from '#shared/lots/holding.ts';
import { againstLimit, WILD_YEAST_DISCARD_PER_MILLION } from '#shared/science/contaminants.ts';
import type { Ranged } from '#shared/views/recorded.ts';
import { foundIn, type LotFacts, type LotRule, nothing } from './lotFacts.ts';

const whenHeld = (cause: Holding['cause']) => (lot: LotFacts) =>
  lot.holdings
    .filter((holding) => holding.cause === cause && holding.holds)
    .flatMap((holding) =>
      foundIn(
        lot,
        holding.recordId,
        `since ${dayWords(holding.since.slice(0, 10))}, ${holding.by}`,
      ).map((found) => ({
        ...found,
        text: cause === 'held by hand' ? `On hold: ${holding.why}` : `Plate ${holding.why}`,
      })),
    );

const wildFigure = ({ value, low, high }: Ranged) =>
  `${value.toFixed(0)} in a million (${low.toFixed(0)} to ${high.toFixed(0)})`;

const held = {
  weight: 'contamination',
  limit: () => 'nothing on hold is pitched',
  source: 'the record itself',
  evidence: 'record',
} as const;

export const holdRules: readonly LotRule[] = [
  {
    rule: 'wild yeast',
    weight: 'contamination',
    verdict: 'past it',
    text: 'So much wild yeast grew that it is thrown away',
    limit: () => `below ${WILD_YEAST_DISCARD_PER_MILLION} in a million cells`,
    source: 'Richards 1968, J. Inst. Brew. 74: the level at which cask beer came back',
    evidence: 'second hand',
    find: (lot) =>
      lot.holdings.flatMap(({ wildPerMillion: wild, recordId }) =>
        wild !== null && againstLimit(wild, WILD_YEAST_DISCARD_PER_MILLION) === 'over'
          ? foundIn(lot, recordId, wildFigure(wild))
          : nothing,
      ),
  },
  {
    ...held,
    rule: 'plate over the limit',
    verdict: 'past it',
    text: 'A plate is over the limit',
    find: whenHeld('discard'),
  },
  {
    ...held,
    rule: 'plate found',
    verdict: 'hold',
    text: 'Something grew on a plate',
    find: whenHeld('found'),
  },
  {
    ...held,
    rule: 'hold',
    verdict: 'hold',
    text: 'On hold',
    find: whenHeld('held by hand'),
  },
  {
    ...held,
    rule: 'plate pending',
    verdict: 'hold',
    text: 'A plate is not yet read',
    find: whenHeld('result pending'),
  },
  {
    ...held,
    rule: 'routine plate pending',
    verdict: 'fit',
    text: 'A routine plate is not yet read: it may be pitched, and may turn out to be foul',
    limit: () => 'a routine plate warns and does not hold',
    source: "the strain's limits in Setup: plates take longer than yeast keeps",
    evidence: 'house policy',
    find: (lot) =>
      lot.holdings
        .filter(({ holds }) => !holds)
        .flatMap(({ why, recordId, since }) =>
          foundIn(lot, recordId, `${why}, plated ${dayWords(since.slice(0, 10))}`),
        ),
  },
];
