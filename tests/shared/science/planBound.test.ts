import { expect, test } from 'vitest';
import { mostThatCouldBeFed } from '#shared/science/planBound.ts';

const brew = (id: string, neededCells: number, strainId = 'north') => ({
  id,
  strainId,
  atHours: 10,
  neededCells,
});
const stock = (viableCells: number, more = {}) => ({
  id: 'x',
  strainId: 'north',
  readyAtHours: 0,
  expiresAtHours: 90,
  viableCells,
  generation: 1,
  share: 1,
  ...more,
});

test('mostThatCouldBeFed(brews, stock, crops) feeds the smallest needs from all there is', () => {
  const brews = [brew('a', 9), brew('b', 4), brew('c', 5)];
  expect(mostThatCouldBeFed(brews, [stock(9)], [])).toBe(2);
  expect(mostThatCouldBeFed(brews, [stock(8.9)], [])).toBe(1);
  expect(mostThatCouldBeFed(brews, [stock(99)], [])).toBe(3);
});

test('mostThatCouldBeFed(brews, stock, crops) counts strains apart, and no held or expired lot', () => {
  const brews = [brew('a', 5), brew('b', 5, 'south')];
  expect(mostThatCouldBeFed(brews, [stock(20)], [])).toBe(1);
  expect(mostThatCouldBeFed(brews, [stock(20, { isHeld: true })], [])).toBe(0);
  expect(mostThatCouldBeFed(brews, [stock(20, { expiresAtHours: 9 })], [])).toBe(0);
});

test('mostThatCouldBeFed(brews, stock, crops) hopes for the crops of the brews to come', () => {
  const crop = { id: 'c', fromBrewId: 'a', readyAtHours: 60, expiresAtHours: 90, viableCells: 7 };
  const brews = [brew('a', 5), brew('b', 7)];
  expect(mostThatCouldBeFed(brews, [stock(5)], [crop])).toBe(2);
  expect(mostThatCouldBeFed(brews, [stock(5)], [{ ...crop, fromBrewId: 'gone' }])).toBe(1);
});
