import { expect, test } from 'vitest';
import { chamberIds, chamberRuling, chamberRulings } from '#shared/science/chambers.ts';

test('chamberRulings hold each chamber once', () => {
  expect(chamberRulings.map(({ id }) => id)).toEqual([...chamberIds]);
});

// Improved Neubauer plate, as its makers print it: 1 mm² squares, 25 of 0.2 mm side, depth 0.1 mm.
test('the squares of the improved Neubauer ruling fill its centre', () => {
  const medium = chamberRuling('improved Neubauer, medium squares');
  expect((medium.squareAreaMm2 ?? NaN) * (medium.squaresInRuling ?? NaN)).toBeCloseTo(1, 12);
  const large = chamberRuling('improved Neubauer, large squares');
  expect((large.squareAreaMm2 ?? NaN) * large.depthMm * 1e-3).toBeCloseTo(1e-4, 15);
});

// 16 corner squares of 0.25 mm side to the 1 mm² square: multiplier 1.6e5, Master Brewers discussion.
test('a corner square multiplies by 160 000', () => {
  const corner = chamberRuling('improved Neubauer, corner squares');
  expect(1 / ((corner.squareAreaMm2 ?? NaN) * corner.depthMm * 1e-3)).toBeCloseTo(1.6e5, 6);
});

// From memory: 256 small squares of 0.0025 mm² in 16 groups, 0.64 mm².
test('the groups of the Thoma ruling add to 0.64 mm²', () => {
  const thoma = chamberRuling('Thoma, groups of 16');
  expect((thoma.squareAreaMm2 ?? NaN) * (thoma.squaresInRuling ?? NaN)).toBeCloseTo(0.64, 12);
});
