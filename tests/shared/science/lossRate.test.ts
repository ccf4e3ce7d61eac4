import { expect, test } from 'vitest';
import { learnedLossRate, priorLossRate, type StainedTwice } from '#shared/science/lossRate.ts';

/** Stains as they would read on average for a lot that loses so much a day. */
function stainedTwice(perDay: number, equivalentDays: number, cells = 1000): StainedTwice {
  const firstLive = Math.round(0.96 * cells);
  const laterLive = Math.round(0.96 * cells * Math.exp(-perDay * equivalentDays));
  return {
    ...{ equivalentDays, firstLive, firstDead: cells - firstLive },
    ...{ laterLive, laterDead: cells - laterLive },
  };
}

// The prior by its own statement: 0.0121 a day within a factor of four.
test('without pairs the prior comes back', () => {
  const { prior, learned, nextLot, pairs } = learnedLossRate([]);
  expect(learned.perDay).toBeCloseTo(0.0121, 12);
  expect(learned.low).toBeCloseTo(0.0121 / 4, 6);
  expect(learned.high).toBeCloseTo(0.0121 * 4, 5);
  expect([prior.perDay, pairs]).toEqual([0.0121, 0]);
  expect(nextLot.logSd).toBeCloseTo(priorLossRate.logSd, 12);
});

test('many pairs give the rate they were made with back', () => {
  const pairs = Array.from({ length: 20 }, (_, i) => stainedTwice(0.04, 4 + (i % 5) * 2));
  const { learned } = learnedLossRate(pairs);
  expect(Math.abs(learned.perDay / 0.04 - 1)).toBeLessThan(0.05);
  expect(learned.low).toBeGreaterThan(0.03);
  expect(learned.high).toBeLessThan(0.05);
});

test('one pair draws the rate part of the way, and narrows it', () => {
  const { prior, learned } = learnedLossRate([stainedTwice(0.04, 6, 200)]);
  expect(learned.perDay).toBeGreaterThan(prior.perDay);
  expect(learned.perDay).toBeLessThan(0.04);
  expect(learned.high / learned.low).toBeLessThan(prior.high / prior.low);
});

test('lots that disagree leave a wider interval than lots that agree', () => {
  const agree = learnedLossRate([0.02, 0.02, 0.02, 0.02].map((k) => stainedTwice(k, 10)));
  const differ = learnedLossRate([0.01, 0.03, 0.012, 0.028].map((k) => stainedTwice(k, 10)));
  expect(differ.betweenLotsLogSd).toBeGreaterThan(agree.betweenLotsLogSd);
  expect(differ.learned.logSd).toBeGreaterThan(agree.learned.logSd);
  expect(differ.nextLot.logSd).toBeGreaterThan(differ.learned.logSd);
});

test('a later stain that reads higher still leaves a loss above 0', () => {
  const rising = {
    equivalentDays: 3,
    firstLive: 380,
    firstDead: 20,
    laterLive: 390,
    laterDead: 10,
  };
  const { learned } = learnedLossRate([rising]);
  expect(learned.low).toBeGreaterThan(0);
  expect(learned.perDay).toBeLessThan(priorLossRate.perDay);
});

test('the order of pairs does not matter', () => {
  const pairs = [0.01, 0.05, 0.02].map((k) => stainedTwice(k, 8));
  const { learned } = learnedLossRate(pairs);
  expect(learnedLossRate(pairs.toReversed()).learned.perDay).toBeCloseTo(learned.perDay, 12);
});

test('learnedLossRate(pairs) refuses stains without time or living cells', () => {
  const pair = stainedTwice(0.02, 5);
  const refused = (change: Partial<StainedTwice>) => () =>
    learnedLossRate([{ ...pair, ...change }]);
  expect(refused({ equivalentDays: 0 })).toThrow('equivalentDays must be > 0, got 0');
  expect(refused({ firstLive: 0 })).toThrow('firstLive must be > 0, got 0');
  expect(refused({ laterLive: 0, laterDead: 0 })).toThrow(RangeError);
  expect(refused({ laterDead: 1.5 })).toThrow(RangeError);
  expect(() => learnedLossRate([], { ...priorLossRate, logSd: Number.NaN })).toThrow(RangeError);
});
