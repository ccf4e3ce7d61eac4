import { fromFresh } from '#shared/generationWords.ts';
import { generalLimits } from './limits.ts';
import { foundIn, type LotFacts, type LotRule, nothing } from './lotFacts.ts';
import { housePolicy } from './rule.ts';

const stored = (applies: (days: number, lot: LotFacts) => boolean) => (lot: LotFacts) => {
  const days = lot.ageHours / 24;
  return lot.kind !== 'freshCulture' && applies(days, lot)
    ? foundIn(lot, lot.id, storedWords(days))
    : nothing;
};

const storedWords = (days: number) =>
  days < 0.05 ? 'less than an hour' : `${days.toFixed(1)} days`;

const storage = {
  rule: 'storage',
  weight: 'keeping',
  limit: ({ strain }: LotFacts) => `at most ${strain.maxStorageDays} days`,
  ...housePolicy,
} as const;

export const storageRules: readonly LotRule[] = [
  {
    ...storage,
    verdict: 'past it',
    text: 'Stored too long',
    find: stored((days, { strain }) => days > strain.maxStorageDays),
  },
  {
    ...storage,
    verdict: 'fit',
    text: 'More than three days in store: use it next',
    source: 'supplier guidance: best reused within 48 to 72 h',
    evidence: 'published',
    find: stored((days) => days > generalLimits.cautionStorageDays),
  },
  { ...storage, verdict: 'fit', text: 'Fresh enough', find: stored(() => true) },
];

const kept = (applies: (warmestC: number, latestC: number, lot: LotFacts) => boolean) => {
  return (lot: LotFacts) => {
    const { warmestTempC: warmest, latestTempC: latest } = lot;
    if (warmest === null || latest === null || !applies(warmest, latest, lot)) return nothing;
    return foundIn(lot, lot.id, `warmest ${warmest.toFixed(1)} °C, last ${latest.toFixed(1)} °C`);
  };
};

const storeTemperature = {
  rule: 'store temperature',
  weight: 'keeping',
  limit: ({ strain }: LotFacts) => `${strain.storeLowC} to ${strain.storeHighC} °C`,
} as const;

export const temperatureRules: readonly LotRule[] = [
  {
    ...storeTemperature,
    verdict: 'test first',
    text: 'The yeast was near freezing: stain it before use',
    source: 'Boulton & Quain 2001, section 7.3.2: must not freeze',
    evidence: 'published',
    find: kept((_, latest) => latest <= generalLimits.freezingC),
  },
  {
    ...storeTemperature,
    verdict: 'test first',
    text: 'It was kept warm: stain it before use',
    source: 'McCaig & Bendiak 1985: significant loss at 10 °C and above within 6 days',
    evidence: 'published',
    find: kept((warmest) => warmest >= generalLimits.warmStoreC),
  },
  {
    ...storeTemperature,
    ...housePolicy,
    verdict: 'fit',
    text: 'Warmer than the store band at times',
    find: kept((warmest, _, { strain }) => warmest > strain.storeHighC),
  },
];

const generations = {
  rule: 'generations',
  weight: 'age',
  limit: ({ strain }: LotFacts) => `at most ${strain.maxGenerations}`,
  ...housePolicy,
} as const;
const aged = (applies: (generation: number, most: number) => boolean) => (lot: LotFacts) =>
  applies(lot.generation, lot.strain.maxGenerations)
    ? foundIn(lot, lot.id, fromFresh(lot.generation))
    : nothing;

export const ageRules: readonly LotRule[] = [
  {
    ...generations,
    verdict: 'past it',
    text: 'Over the number of generations the house allows',
    find: aged((generation, most) => generation > most),
  },
  {
    ...generations,
    verdict: 'fit',
    text: 'The last generation the house allows',
    find: aged((generation, most) => generation === most),
  },
];
