import { expect, test } from 'vitest';
import { requireSoundPlan } from '#shared/science/planSoundness.ts';
import { brew, lot } from './planCase.ts';

test('requireSoundPlan(plan) refuses doubled ids, unknown brews and impossible numbers', () => {
  const brews = [brew('a', 10, 4)];
  const ask = (change: object) => () => requireSoundPlan({ brews, lots: [], crops: [], ...change });
  expect(ask({ brews: [...brews, ...brews] })).toThrow(/used once/);
  expect(ask({ brews: [brew('a', 10, 0)] })).toThrow(/cells > 0/);
  expect(ask({ brews: [brew('a', 10, 4, { leastCells: 5 })] })).toThrow(/at most what is needed/);
  expect(ask({ brews: [brew('a', 10, 4, { from: [{ lotId: 'x', cells: 0 }] })] })).toThrow(
    /by hand/,
  );
  expect(ask({ lots: [lot('x', NaN, 9)] })).toThrow(/cells and loss/);
  expect(ask({ lots: [lot('x', 1, 9, { readyAtHours: 10 })] })).toThrow(/expire after/);
  const crop = { id: 'c', fromBrewId: 'z', readyAtHours: 1, expiresAtHours: 2, viableCells: 1 };
  expect(ask({ crops: [crop] })).toThrow(/must be planned/);
});

test('requireSoundPlan(plan) lets a sound plan pass', () => {
  const from = [{ lotId: 'x', cells: 2 }];
  const plan = { brews: [brew('a', 10, 4, { from })], lots: [lot('x', 5, 9)], crops: [] };
  expect(() => requireSoundPlan(plan)).not.toThrow();
});
