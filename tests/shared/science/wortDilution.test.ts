import { expect, test } from 'vitest';
import { wortDilution } from '#shared/science/wortDilution.ts';

const wort = { volumeL: 1000, gravitySg: 1.04 };

// By hand: (40 x 1000 + 10 x 12) / 1012 = 39.64 degrees; 4 % x 12 / 1012 = 0.047 %.
test('20 L of slurry at 1010 take a third of a degree off 1000 L of 1040', () => {
  const mixed = wortDilution(wort, { volumeL: 20, beerSg: 1.01, beerAbvPercent: 4 });
  expect(mixed.volumeL).toBe(1012);
  expect(mixed.fallDegrees).toBeCloseTo(0.3557, 4);
  expect(mixed.gravitySg).toBeCloseTo(1.0396443, 7);
  expect(mixed.abvPercent).toBeCloseTo(0.04743, 5);
});

test('yeast without beer, or beer like the wort, changes nothing', () => {
  const dry = { volumeL: 20, beerSg: 1.01, beerAbvPercent: 4, cellShare: 1 };
  expect(wortDilution(wort, dry)).toMatchObject({ volumeL: 1000, fallDegrees: 0, abvPercent: 0 });
  const alike = { volumeL: 50, beerSg: 1.04, beerAbvPercent: 0 };
  expect(wortDilution(wort, alike).fallDegrees).toBeCloseTo(0, 12);
});

test('wortDilution(…) refuses volumes and strengths without meaning', () => {
  const slurry = { volumeL: 20, beerSg: 1.01, beerAbvPercent: 4 };
  expect(() => wortDilution({ ...wort, volumeL: 0 }, slurry)).toThrow(RangeError);
  expect(() => wortDilution(wort, { ...slurry, volumeL: NaN })).toThrow(RangeError);
  expect(() => wortDilution(wort, { ...slurry, beerAbvPercent: 101 })).toThrow(RangeError);
  expect(() => wortDilution(wort, { ...slurry, cellShare: 2 })).toThrow(RangeError);
});
