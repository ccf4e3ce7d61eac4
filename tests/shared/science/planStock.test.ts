import { expect, test } from 'vitest';
import type { LotInStore, PlannedBrew } from '#shared/science/planAllocation.ts';
import {
  blockOf,
  cellsAt,
  feedOptions,
  startingStock,
  withCrops,
} from '#shared/science/planStock.ts';

const brew: PlannedBrew = { id: 'a', strainId: 'north', atHours: 50, neededCells: 6 };
const lot = (id: string, viableCells: number, expiresAtHours: number): LotInStore => ({
  id,
  strainId: 'north',
  readyAtHours: 0,
  expiresAtHours,
  viableCells,
  generation: 3,
});

test('cellsAt(stock, hours) halves in one half life, from when the lot is ready', () => {
  const stock = { ...lot('x', 8, 90), share: 0.5, readyAtHours: 10, lossPerHour: Math.LN2 / 40 };
  expect(cellsAt(stock, 10)).toBe(4);
  expect(cellsAt(stock, 50)).toBeCloseTo(2, 12);
});

test('blockOf(stock, brew) takes a lot at each of its limits', () => {
  const atLimits = { ...lot('x', 8, 50), share: 1, readyAtHours: 50, viability: 0.9 };
  const strict = { ...brew, mostGeneration: 3, leastViability: 0.9 };
  expect(blockOf(atLimits, strict)).toBe(undefined);
  expect(blockOf({ ...atLimits, share: 0 }, strict)).toBe('used up');
});

test('feedOptions(brew, stock) offers single lots and pairs, what expires first leading', () => {
  const stock = startingStock([lot('late', 9, 200), lot('early', 2, 60), lot('mid', 5, 100)]);
  const offered = feedOptions(brew, stock).map(({ fed }) =>
    fed.parts.map(({ lotId, cells }) => `${lotId} ${cells}`).join(' + '),
  );
  expect(offered).toEqual([
    'early 2 + mid 4',
    'early 2 + late 4',
    'mid 5 + early 1',
    'mid 5 + late 1',
    'late 6',
  ]);
});

test('feedOptions(brew, stock) leaves the stock it was given alone', () => {
  const stock = Object.freeze(startingStock([lot('x', 9, 200)]).map((one) => Object.freeze(one)));
  const [option] = feedOptions(brew, stock);
  expect(option?.stock[0]?.share).toBeCloseTo(1 / 3, 12);
  expect(stock[0]?.share).toBe(1);
});

test('withCrops(stock, fed, crops, brew) adds the crops of that brew alone', () => {
  const crop = { readyAtHours: 90, expiresAtHours: 200, viableCells: 20 };
  const crops = [
    { ...crop, id: 'c', fromBrewId: 'a' },
    { ...crop, id: 'd', fromBrewId: 'b' },
  ];
  const fed = { brewId: 'a', generation: 3, parts: [] };
  expect(withCrops([], fed, crops, brew)).toMatchObject([
    { id: 'c', strainId: 'north', generation: 4, share: 1 },
  ]);
});
