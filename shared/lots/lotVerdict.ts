import { GREATEST_CORRECTION } from '#shared/science/weakYeast.ts';
import { type Reason, type Verdict, verdictOf } from '#shared/verdict.ts';
import type { LotStanding } from '#shared/views.ts';
import { type HoldEvidence, type Holding, holdingsOf } from './holding.ts';

type LotFacts = Omit<LotStanding, 'verdict'>;
type Rule = (lot: LotFacts) => Reason | undefined;

/** Limits that hold for any strain; a strain's own policy stands beside them. */
export const lotLimits = {
  /** Above this a reading asks no question. */
  goodViabilityPercent: 95,
  /** Below this no raised pitch makes up for the dead. */
  rejectViabilityPercent: 100 / GREATEST_CORRECTION,
  /** A first caution, whatever the strain's own limit. */
  cautionStorageDays: 3,
  /** Yeast this warm in store has lost condition quickly. */
  warmStoreC: 10,
  freezingC: 0,
} as const;

/** Whether a lot is fit to pitch, and every reason for and against. Condition counts before age. */
export function lotVerdict(lot: LotFacts, evidence: HoldEvidence): Verdict {
  return verdictOf([
    ...holdingsOf(evidence).map(holdReason),
    ...rules.map((rule) => rule(lot)).filter((reason) => reason !== undefined),
  ]);
}

function holdReason(holding: Holding): Reason {
  return {
    rule: 'hold',
    verdict: holding.cause === 'discard' ? 'past it' : 'hold',
    text: holding.cause === 'held by hand' ? `On hold: ${holding.why}` : `Plate ${holding.why}`,
    figure: `since ${holding.since.slice(0, 10)}, ${holding.by}`,
    limit: 'nothing on hold is pitched',
    source: 'the record itself',
    evidence: 'record',
    recordId: holding.recordId,
  };
}

const percent = (value: number) => `${value.toFixed(1)} %`;
const days = (hours: number) => `${(hours / 24).toFixed(1)} days`;
const housePolicy = { source: "the strain's limits in Setup", evidence: 'house policy' } as const;

const viability: Rule = ({ stain, strain }) => {
  const limit = strain.minViabilityPercent;
  if (stain === null)
    return {
      rule: 'viability',
      verdict: 'test first',
      text: 'No stain yet: nobody knows how much of it is alive',
      figure: 'none',
      limit: `at least ${percent(limit)}`,
      ...housePolicy,
      recordId: null,
    };
  const now = stain.predictedNow;
  const common = {
    rule: 'viability',
    figure: `${percent(now.value)} (${percent(now.low)} to ${percent(now.high)}), predicted for now`,
    limit: `at least ${percent(limit)}`,
    recordId: stain.recordId,
  };
  if (now.high < lotLimits.rejectViabilityPercent)
    return {
      ...common,
      verdict: 'past it',
      text: 'Too much of it is dead: pitching more does not make up for it',
      limit: `below ${lotLimits.rejectViabilityPercent} % reject`,
      source: 'correction of at most 25 %, maltster and supplier guidance on pitching',
      evidence: 'derived',
    };
  if (now.high < limit)
    return { ...common, ...housePolicy, verdict: 'past it', text: 'Viability is below the limit' };
  if (now.low < limit)
    return {
      ...common,
      ...housePolicy,
      verdict: 'test first',
      text: 'Viability may be below the limit: stain it again, and count more cells',
    };
  return {
    ...common,
    ...housePolicy,
    verdict: 'fit',
    text:
      now.value < lotLimits.goodViabilityPercent
        ? 'Viability is within the limit, though below the 95 % aimed at'
        : 'Viability is good',
  };
};

const staleStain: Rule = ({ stain, strain }) =>
  stain === null || stain.ageHours <= strain.staleCountHours
    ? undefined
    : {
        rule: 'stale stain',
        verdict: 'test first',
        text: 'The stain is old: stain it again',
        figure: `${stain.ageHours.toFixed(0)} h old`,
        limit: `at most ${strain.staleCountHours} h`,
        ...housePolicy,
        recordId: stain.recordId,
      };

const count: Rule = ({ count: found, strain }) => {
  const common = {
    rule: 'count',
    limit: `at most ${strain.staleCountHours} h old`,
    ...housePolicy,
  };
  if (found === null)
    return {
      ...common,
      verdict: 'test first',
      text: 'Not counted yet: the amount to pitch would be a guess',
      figure: 'none',
      recordId: null,
    };
  const figure = `${found.ageHours.toFixed(0)} h old`;
  if (found.stale)
    return {
      ...common,
      verdict: 'test first',
      text: 'The count is old',
      figure,
      recordId: found.recordId,
    };
  return {
    ...common,
    verdict: 'fit',
    text: 'The count is recent',
    figure,
    recordId: found.recordId,
  };
};

const clumps: Rule = ({ count: found }) =>
  found?.clumped === true
    ? {
        rule: 'clumps',
        verdict: 'test first',
        text: 'The squares differ more than chance allows: clumped or badly mixed, count again',
        figure: `${found.cellsCounted} cells counted`,
        limit: 'dispersion test, p at least 0.01',
        source: 'Student 1907, Biometrika 5:351 (what a well mixed count looks like)',
        evidence: 'published',
        recordId: found.recordId,
      }
    : undefined;

const storage: Rule = ({ ageHours, strain, kind, id }) => {
  if (kind === 'freshCulture') return undefined;
  const common = {
    rule: 'storage',
    figure: days(ageHours),
    limit: `at most ${strain.maxStorageDays} days`,
    recordId: id,
    ...housePolicy,
  };
  const storedDays = ageHours / 24;
  if (storedDays > strain.maxStorageDays)
    return { ...common, verdict: 'past it', text: 'Stored too long' };
  if (storedDays > lotLimits.cautionStorageDays)
    return {
      ...common,
      verdict: 'fit',
      text: 'More than three days in store: use it next',
      source: 'supplier guidance: best reused within 48 to 72 h',
      evidence: 'published',
    };
  return { ...common, verdict: 'fit', text: 'Fresh enough' };
};

const storeTemperature: Rule = ({ warmestTempC, latestTempC, strain, id }) => {
  if (warmestTempC === null || latestTempC === null) return undefined;
  const common = {
    rule: 'store temperature',
    figure: `warmest ${warmestTempC.toFixed(1)} °C, last ${latestTempC.toFixed(1)} °C`,
    limit: `${strain.storeLowC} to ${strain.storeHighC} °C`,
    recordId: id,
  };
  if (latestTempC <= lotLimits.freezingC)
    return {
      ...common,
      verdict: 'test first',
      text: 'The yeast was near freezing: stain it before use',
      source: 'Boulton & Quain 2001, section 7.3.2: must not freeze',
      evidence: 'published',
    };
  if (warmestTempC >= lotLimits.warmStoreC)
    return {
      ...common,
      verdict: 'test first',
      text: 'It was kept warm: stain it before use',
      source: 'McCaig & Bendiak 1985: significant loss at 10 °C and above within 6 days',
      evidence: 'published',
    };
  return warmestTempC > strain.storeHighC
    ? { ...common, ...housePolicy, verdict: 'fit', text: 'Warmer than the store band at times' }
    : undefined;
};

const generations: Rule = ({ generation, strain, id }) => {
  const common = {
    rule: 'generations',
    figure: `generation ${generation}, counted from 0`,
    limit: `at most ${strain.maxGenerations}`,
    recordId: id,
    ...housePolicy,
  };
  if (generation > strain.maxGenerations)
    return {
      ...common,
      verdict: 'past it',
      text: 'Over the number of generations the house allows',
    };
  return generation === strain.maxGenerations
    ? { ...common, verdict: 'fit', text: 'The last generation the house allows' }
    : undefined;
};

const overdrawn: Rule = ({ left, unit, id }) =>
  left < 0
    ? {
        rule: 'amount',
        verdict: 'test first',
        text: 'More was taken than was recorded: check the amounts',
        figure: `${left} ${unit} left`,
        limit: '0 or more',
        source: 'the record itself',
        evidence: 'record',
        recordId: id,
      }
    : undefined;

const rules: readonly Rule[] = [
  viability,
  staleStain,
  count,
  clumps,
  storage,
  storeTemperature,
  generations,
  overdrawn,
];
