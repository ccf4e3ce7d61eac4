import { expect, test } from 'vitest';
import { failureChances, GROUP_WEIGHT, priorBrews } from '#shared/plan/failureChance.ts';

const brews = (generation: number, brews: number, lost: number) => ({
  ...{ strainId: 'north', generation, brews, lost },
});

test('failureChances(past) without a brew is one wide guess for every generation', () => {
  const { chances, chancesFrom } = failureChances([], 8, null);
  expect(chancesFrom).toBe('a wide guess');
  expect(chances).toHaveLength(9);
  for (const { chance } of chances) {
    expect(chance.value).toBeCloseTo(priorBrews.lost / priorBrews.brews, 12);
    expect(chance.high / chance.value).toBeGreaterThan(4);
  }
});

test('failureChances(past) stay a wide guess until fifty brews are known', () => {
  const from = (...past: ReturnType<typeof brews>[]) => failureChances(past, 8, null).chancesFrom;
  expect(from(brews(1, 49, 0))).toBe('a wide guess');
  expect(from(brews(1, 20, 0), brews(7, 29, 3))).toBe('a wide guess');
  expect(from(brews(1, 20, 0), brews(7, 30, 3))).toBe('your own brews');
});

// Mean of a beta distribution: a / (a + b); groups of three generations, by hand.
test('failureChances(past) draws each three generations towards the mean of all', () => {
  const past = [brews(0, 50, 0), brews(4, 50, 4)];
  const { chances, chancesFrom } = failureChances(past, 5, null);
  const mean = 4.5 / 150;
  expect(chancesFrom).toBe('your own brews');
  expect(chances[0]?.chance.value).toBeCloseTo((GROUP_WEIGHT * mean) / 70, 12);
  expect(chances[4]?.chance.value).toBeCloseTo((GROUP_WEIGHT * mean + 4) / 70, 12);
  expect(chances[3]?.chance).toEqual(chances[5]?.chance);
  expect(chances[4]).toMatchObject({ brews: 50, lost: 4 });
});

test('failureChances(past) narrows as brews are added', () => {
  const widthAfter = (count: number) => {
    const { chances } = failureChances([brews(0, count, count / 50)], 0, null);
    return (chances[0]?.chance.high ?? 0) - (chances[0]?.chance.low ?? 0);
  };
  expect(widthAfter(500)).toBeLessThan(widthAfter(100) / 1.5);
});

// By hand: 1 % and half a percent more a generation.
test('failureChances(…) takes the house’s own figures as they are, rising by generation', () => {
  const policy = {
    ...{ id: 'policy', entryId: 'policy', kind: 'freshCulturePolicy', happenedAt: '', by: 'Ines' },
    ...{ strainId: 'north', lostBrewPercent: 1, lostBrewRisePercent: 0.5 },
  } as unknown as Parameters<typeof failureChances>[2];
  const { chances, chancesFrom } = failureChances([brews(4, 50, 4)], 4, policy);
  expect(chancesFrom).toBe('your own figures');
  const told = [0.01, 0.015, 0.02, 0.025, 0.03];
  for (const [generation, each] of chances.entries())
    expect(each.chance.value).toBeCloseTo(told[generation] ?? 0, 12);
  expect(chances).toHaveLength(5);
});

test('failureChances(…) of the house’s own figures stay as they are without a rise, and end at all', () => {
  const chancesBy = (own: object) => {
    const policy = { strainId: 'north', ...own } as unknown as Parameters<typeof failureChances>[2];
    return failureChances([], 4, policy).chances.map(({ chance }) => chance.value);
  };
  expect(chancesBy({ lostBrewPercent: 2 })).toEqual([0.02, 0.02, 0.02, 0.02, 0.02]);
  expect(chancesBy({ lostBrewPercent: 60, lostBrewRisePercent: 20 })).toEqual([0.6, 0.8, 1, 1, 1]);
});
