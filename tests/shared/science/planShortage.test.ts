import { expect, test } from 'vitest';
import { shortageOf } from '#shared/science/planShortage.ts';

const brew = { id: 'a', strainId: 'north', atHours: 50, neededCells: 12 };
const stock = (id: string, viableCells: number, more = {}) => ({
  id,
  strainId: 'north',
  readyAtHours: 0,
  expiresAtHours: 90,
  viableCells,
  generation: 3,
  share: 1,
  ...more,
});

test('shortageOf(brew, stock) counts what the two fullest fit lots hold', () => {
  const lots = [
    stock('x', 3),
    stock('y', 5),
    stock('z', 4),
    stock('other', 99, { strainId: 'south' }),
  ];
  expect(shortageOf(brew, lots)).toMatchObject({ availableCells: 9, missingCells: 3, blocked: [] });
});

test('shortageOf(brew, stock) names crops of planned brews that came in time, used up or not', () => {
  const lots = [
    stock('fit', 3, { fromBrewId: 'p' }),
    stock('gone', 3, { fromBrewId: 'q', share: 0 }),
    stock('late', 3, { fromBrewId: 'r', readyAtHours: 60 }),
  ];
  const { cropMoreOf, blocked } = shortageOf(brew, lots);
  expect(cropMoreOf).toEqual(['p', 'q']);
  expect(blocked).toEqual([
    { lotId: 'gone', reason: 'used up' },
    { lotId: 'late', reason: 'not ready yet' },
  ]);
});
