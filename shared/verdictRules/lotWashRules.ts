import { agoWords } from '#shared/agoWords.ts';
import { acidWashBounds } from '#shared/treatments/acidWash.ts';
import { foundIn, type LotRule, nothing } from './lotFacts.ts';

const sinceWash = (hours: number) => `washed ${agoWords(hours)}`;

const washed = {
  weight: 'keeping',
  limit: () => `pitched at once, within ${acidWashBounds.longestWaitHours} h`,
  source:
    'Simpson & Hammond 1989, J. Inst. Brew. 95: not stored once washed; the hour is common practice, no source',
  evidence: 'published',
} as const;

export const washRules: readonly LotRule[] = [
  {
    ...washed,
    rule: 'acid wash out of bounds',
    verdict: 'test first',
    text: 'The acid wash went beyond its bounds: stain it before use',
    limit: () => 'pH, temperature and time as published',
    find: (lot) =>
      lot.wash !== null && lot.wash.findings.length > 0 && isNotStainedSince(lot)
        ? foundIn(lot, lot.wash.recordId, lot.wash.findings.join('; '))
        : nothing,
  },
  {
    ...washed,
    rule: 'acid wash',
    verdict: 'test first',
    text: 'Washed yeast was kept: stain it before use',
    find: (lot) =>
      lot.wash !== null &&
      lot.wash.hoursSince > acidWashBounds.longestWaitHours &&
      isNotStainedSince(lot)
        ? foundIn(lot, lot.wash.recordId, sinceWash(lot.wash.hoursSince))
        : nothing,
  },
  {
    ...washed,
    rule: 'acid wash',
    verdict: 'fit',
    text: 'Acid washed: pitch it at once',
    find: (lot) =>
      lot.wash !== null && lot.wash.hoursSince <= acidWashBounds.longestWaitHours
        ? foundIn(lot, lot.wash.recordId, sinceWash(lot.wash.hoursSince))
        : nothing,
  },
];

const isNotStainedSince = ({ wash, stain }: Parameters<LotRule['find']>[0]) =>
  stain === null || wash === null || Date.parse(stain.at) <= Date.parse(wash.endedAt);
