import { beforeAll, expect, test } from 'vitest';
import { lotStandings } from '#api/standings.ts';
import type { Holding } from '#shared/lots/holding.ts';
import { lotVerdict } from '#shared/lots/lotVerdict.ts';
import { petitePercent } from '#shared/lots/petites.ts';
import type { Reason } from '#shared/verdict.ts';
import type { LotFacts } from '#shared/verdictRules/lotFacts.ts';
import type { LotCount, LotStain } from '#shared/views/lots.ts';
import { aSmallStory, at } from '#tests/support/brewery.ts';

/** A crop a day and a half in store, counted and stained this morning, and nothing wrong with it. */
let good: LotFacts;

const count: LotCount = {
  recordId: 'count',
  at: at(70),
  ageHours: 2,
  basis: 'g',
  cellsPer: { value: 1.9e9, low: 1.6e9, high: 2.2e9 },
  logSd: 0.08,
  cellsCounted: 400,
  clumped: false,
  stale: false,
};
const stainOf = (value: number, low: number, high: number, ageHours = 2): LotStain => ({
  recordId: 'stain',
  at: at(70),
  ageHours,
  stain: 'methylene blue',
  live: 388,
  dead: 12,
  percent: { value, low, high },
  validity: 'valid',
  note: '',
  predictedNow: { value, low, high, equivalentDays: 0.1 },
});
const holding = (facts: Partial<Holding>): Holding => ({
  why: 'WLD: something grew',
  since: at(60),
  by: 'Jory',
  recordId: 'result',
  cause: 'found',
  wildPerMillion: null,
  holds: true,
  ...facts,
});

beforeAll(async () => {
  const { database, crop } = await aSmallStory();
  const [standing] = await lotStandings(database, [crop.id], Date.parse(at(72)));
  if (standing === undefined) throw new Error('The crop of the story is missing.');
  const { verdict: _, ...facts } = standing;
  good = { ...facts, count, stain: stainOf(97, 95.1, 98.2), holdings: [] };
});

const verdictOn = (facts: Partial<LotFacts>) => lotVerdict({ ...good, ...facts });
const reasonOf = (facts: Partial<LotFacts>, rule: string): Reason | undefined =>
  verdictOn(facts).reasons.find((reason) => reason.rule === rule);

test('a lot with nothing against it is fit, and says so figure by figure', () => {
  const { verdict, reasons } = verdictOn({});
  expect(verdict).toBe('fit');
  expect(reasons.map(({ rule, text }) => [rule, text])).toEqual([
    ['viability', 'Viability is good'],
    ['count', 'The count is recent'],
    ['storage', 'Fresh enough'],
  ]);
});

test('every reason shows figure, limit, source, evidence, and a link to its record', () => {
  const { reasons } = verdictOn({ latestTempC: 9, warmestTempC: 9, generation: 10, left: -1 });
  expect(reasons).toHaveLength(6);
  for (const { figure, limit, source, evidence } of reasons)
    for (const part of [figure, limit, source, evidence]) expect(part).not.toBe('');
  expect(reasonOf({}, 'count')?.href).toBe(`/yeast/${good.id}#entry-count`);
  expect(reasonOf({}, 'storage')?.href).toBe(`/yeast/${good.id}#entry-${good.id}`);
});

// Limits of the strain of the story: viability 90 %, 4 days, 1 to 4 °C, 24 h, 10 generations.
test.each<[string, string, () => Partial<LotFacts>, string, string]>([
  ['no stain', 'viability', () => ({ stain: null }), 'test first', 'No stain yet'],
  [
    'nearly all dead',
    'viability',
    () => ({ stain: stainOf(72, 67, 76) }),
    'past it',
    'Too much of it is dead',
  ],
  ['below the limit', 'viability', () => ({ stain: stainOf(86, 82, 89) }), 'past it', 'is below'],
  ['near the limit', 'viability', () => ({ stain: stainOf(91, 88, 94) }), 'test first', 'may be'],
  [
    'over the limit',
    'viability',
    () => ({ stain: stainOf(93, 91, 95) }),
    'fit',
    'within the limit',
  ],
  [
    'an old stain',
    'stale stain',
    () => ({ stain: stainOf(97, 95, 98, 25) }),
    'test first',
    'stain it again',
  ],
  ['no count', 'count', () => ({ count: null }), 'test first', 'Not counted yet'],
  ['an old count', 'count', () => ({ count: { ...count, stale: true } }), 'test first', 'is old'],
  ['clumps', 'clumps', () => ({ count: { ...count, clumped: true } }), 'test first', 'clumped'],
  ['over the days', 'storage', () => ({ ageHours: 97 }), 'past it', 'Stored too long'],
  ['over three days', 'storage', () => ({ ageHours: 73 }), 'fit', 'use it next'],
  [
    'frozen',
    'store temperature',
    () => ({ latestTempC: 0, warmestTempC: 3 }),
    'test first',
    'near freezing',
  ],
  [
    'kept warm',
    'store temperature',
    () => ({ latestTempC: 3, warmestTempC: 10 }),
    'test first',
    'kept warm',
  ],
  [
    'a little warm',
    'store temperature',
    () => ({ latestTempC: 3, warmestTempC: 5 }),
    'fit',
    'Warmer than the store band',
  ],
  ['over the generations', 'generations', () => ({ generation: 11 }), 'past it', 'Over the number'],
  ['the last generation', 'generations', () => ({ generation: 10 }), 'fit', 'The last generation'],
  ['more taken than there was', 'amount', () => ({ left: -0.5 }), 'test first', 'More was taken'],
  [
    'put on hold',
    'hold',
    () => ({ holdings: [holding({ cause: 'held by hand', why: 'Smells of sulphur' })] }),
    'hold',
    'On hold: Smells of sulphur',
  ],
  [
    'a plate that grew',
    'plate found',
    () => ({ holdings: [holding({})] }),
    'hold',
    'something grew',
  ],
  [
    'a plate to be discarded for',
    'plate over the limit',
    () => ({ holdings: [holding({ cause: 'discard', why: 'WLD: over the limit, discard' })] }),
    'past it',
    'over the limit',
  ],
  [
    'a plate on suspicion, not read',
    'plate pending',
    () => ({ holdings: [holding({ cause: 'result pending', why: 'WLD: not yet read' })] }),
    'hold',
    'not yet read',
  ],
])('a lot with %s: %s', (_, rule, facts, verdict, words) => {
  const reason = reasonOf(facts(), rule);
  expect(reason?.verdict).toBe(verdict);
  expect(reason?.text).toContain(words);
  expect(verdictOn(facts()).verdict).toBe(verdict);
});

test('a limit itself is still within it', () => {
  expect(reasonOf({ stain: stainOf(93, 90, 95) }, 'viability')?.verdict).toBe('fit');
  expect(reasonOf({ stain: stainOf(97, 95, 98, 24) }, 'stale stain')).toBe(undefined);
  expect(reasonOf({ ageHours: 96 }, 'storage')?.verdict).toBe('fit');
  expect(reasonOf({ ageHours: 72 }, 'storage')?.text).toBe('Fresh enough');
  const atWarmEnd = { latestTempC: 3, warmestTempC: 4 };
  expect(reasonOf(atWarmEnd, 'store temperature')).toBe(undefined);
  expect(reasonOf({ left: 0 }, 'amount')).toBe(undefined);
});

test('a stain whose range reaches the limit from below is asked for again, not thrown away', () => {
  const reason = reasonOf({ stain: stainOf(89, 86, 91) }, 'viability');
  expect(reason?.verdict).toBe('test first');
  expect(reasonOf({ stain: stainOf(96, 94, 97) }, 'viability')?.text).toBe('Viability is good');
});

// Simpson & Hammond 1989: washed yeast is pitched at once; the hour is common practice, no source.
test('washed yeast is fit for an hour, and then, or beyond its bounds, until it is stained again', () => {
  const washed = (hoursSince: number, findings: string[] = []) => ({
    wash: { recordId: 'wash', endedAt: at(71), hoursSince, findings, override: null },
  });
  const stainedAfter = { stain: { ...stainOf(97, 95.1, 98.2), at: at(71.5) } };
  expect(reasonOf(washed(1), 'acid wash')?.verdict).toBe('fit');
  expect(reasonOf(washed(1.5), 'acid wash')?.verdict).toBe('test first');
  expect(reasonOf({ ...washed(1.5), ...stainedAfter }, 'acid wash')).toBe(undefined);
  const warm = washed(0.5, ['Warmer than 5 °C']);
  expect(reasonOf(warm, 'acid wash out of bounds')?.verdict).toBe('test first');
  expect(reasonOf({ ...warm, ...stainedAfter }, 'acid wash out of bounds')).toBe(undefined);
});

test('a routine plate not yet read is told and does not hold, a plate that holds is told once', () => {
  const pending = (holds: boolean) => ({
    holdings: [holding({ cause: 'result pending', why: 'WLD: not yet read', holds })],
  });
  expect(reasonOf(pending(false), 'routine plate pending')?.verdict).toBe('fit');
  expect(reasonOf(pending(false), 'plate pending')).toBe(undefined);
  expect(reasonOf(pending(true), 'routine plate pending')).toBe(undefined);
});

// Richards 1968: pitching yeast is discarded at 100 wild cells in a million culture cells.
test('wild yeast is past it once its lower limit reaches 100 in a million', () => {
  const wild = (value: number, low: number, high: number) =>
    reasonOf({ holdings: [holding({ wildPerMillion: { value, low, high } })] }, 'wild yeast');
  expect(wild(130, 110, 153)).toMatchObject({
    verdict: 'past it',
    figure: '130 in a million (110 to 153)',
  });
  expect(wild(130, 99, 153)).toBe(undefined);
});

test('petites ask for a look once their lower limit passes 5 %', () => {
  const petites = (found: number) => ({
    petites: {
      ...{ recordId: 'plate', at: at(60), found, examined: 200 },
      percent: petitePercent(found, 200),
    },
  });
  expect(reasonOf(petites(19), 'petites')).toMatchObject({
    verdict: 'test first',
    figure: '19 of 200 colonies, 9.5 %',
  });
  expect(reasonOf(petites(10), 'petites')).toBe(undefined);
  // 7 %, of which the exact lower limit is under 4 %.
  expect(reasonOf(petites(14), 'petites')).toBe(undefined);
});

test('condition stands before age among reasons of one verdict', () => {
  const { reasons } = verdictOn({
    stain: stainOf(86, 82, 89),
    ageHours: 30 * 24,
    generation: 14,
    holdings: [holding({ cause: 'discard' })],
  });
  expect(reasons.slice(0, 4).map(({ weight }) => weight)).toEqual([
    'contamination',
    'condition',
    'keeping',
    'age',
  ]);
});

test('a fresh culture is not judged by the days a crop may be stored', () => {
  expect(reasonOf({ kind: 'freshCulture', ageHours: 400 }, 'storage')).toBe(undefined);
});

// Binomial tails summed apart from this code: 2 of 200 is at most 3.57 %; 1 - 0.05^(1/200) is 1.487 %.
test('petitePercent(found, examined) has exact limits, and an upper one when none is found', () => {
  expect(petitePercent(2, 200).value).toBe(1);
  expect(petitePercent(2, 200).high).toBeCloseTo(3.57, 2);
  expect(petitePercent(0, 200)).toMatchObject({ value: 0, low: 0 });
  expect(petitePercent(0, 200).high).toBeCloseTo(1.487, 3);
});
