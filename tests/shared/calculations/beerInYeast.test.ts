import { expect, test } from 'vitest';
import { beerInYeast } from '#shared/calculations/beerInYeast.ts';

const wort = { volumeL: 1000, gravitySg: 1.04 };
const beer = { gravitySg: 1.01, abvPercent: 4 };

// By hand, 0.6 of a slurry being beer: 100 L bring 60 L; (40 × 1000 + 10 × 60) / 1060 = 38.302.
test('a tenth of slurry takes 1.70 degrees off and brings 0.23 % of alcohol', () => {
  const mixed = beerInYeast(wort, [{ amount: 100, unit: 'L', beer }]);
  expect(mixed?.beerL).toBeCloseTo(60, 9);
  expect(mixed?.fallDegrees).toBeCloseTo(1.698, 3);
  expect(mixed?.abvPercent).toBeCloseTo(240 / 1060, 9);
  expect(mixed?.matters).toBe(true);
});

test('one lot or two halves of it do the same', () => {
  const whole = beerInYeast(wort, [{ amount: 20, unit: 'L', beer }]);
  const half = { amount: 10, unit: 'L', beer } as const;
  const halves = beerInYeast(wort, [half, half]);
  expect(halves?.fallDegrees).toBeCloseTo(whole?.fallDegrees ?? Number.NaN, 9);
  expect(halves?.abvPercent).toBeCloseTo(whole?.abvPercent ?? Number.NaN, 9);
});

test('an ordinary pitch does not show, and a lot of unknown beer says nothing', () => {
  expect(beerInYeast(wort, [{ amount: 6, unit: 'kg', beer }])?.matters).toBe(false);
  expect(beerInYeast(wort, [{ amount: 6, unit: 'kg', beer: undefined }])).toBeUndefined();
});
