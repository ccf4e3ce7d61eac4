import { expect, test } from 'vitest';
import { viabilityFromStain } from '#shared/science/viability.ts';

// Wilson limits worked by hand from the score formula to two decimals.
test('570 of 600 alive is 95 %, 92.95 to 96.48', () => {
  const found = viabilityFromStain({ live: 570, dead: 30, stain: 'methylene blue' });
  expect(found).toMatchObject({ percent: 95, validity: 'valid', cellsCounted: 600 });
  expect([found.low.toFixed(2), found.high.toFixed(2)]).toEqual(['92.95', '96.48']);
});

test('a dye reading under its floor is this or worse', () => {
  const found = viabilityFromStain({ live: 448, dead: 52, stain: 'citrate methylene violet' });
  expect(found).toMatchObject({ validity: 'at or below', floorPercent: 90 });
  expect(found.note).toContain('or worse');
});

test('a reading at the floor is valid', () => {
  const found = viabilityFromStain({ live: 450, dead: 50, stain: 'methylene blue' });
  expect(found.validity).toBe('valid');
});

test('a slide culture is valid however low', () => {
  const found = viabilityFromStain({ live: 50, dead: 450, stain: 'slide culture' });
  expect(found).toMatchObject({ percent: 10, validity: 'valid' });
});

test('a hundred cells are said to be few', () => {
  const found = viabilityFromStain({ live: 95, dead: 5, stain: 'other' });
  expect(found.note).toContain('Only 100 cells');
});

test('viabilityFromStain(…) refuses a sample without cells', () => {
  expect(() => viabilityFromStain({ live: 0, dead: 0, stain: 'other' })).toThrow(RangeError);
  expect(() => viabilityFromStain({ live: -1, dead: 5, stain: 'other' })).toThrow(RangeError);
  expect(() => viabilityFromStain({ live: NaN, dead: 5, stain: 'other' })).toThrow(RangeError);
});
