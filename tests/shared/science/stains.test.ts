import { expect, test } from 'vitest';
import { stainNames, stainOf, stains } from '#shared/science/stains.ts';

test('stains hold each name once, each with its caution', () => {
  expect(stains.map(({ name }) => name)).toEqual([...stainNames]);
  expect(stains.filter(({ caution }) => caution === '')).toEqual([]);
});

// "Not below about 90 %" for methylene blue is general teaching, second hand.
test('a dye is valid from 90 %, a slide culture throughout', () => {
  expect(stainOf('methylene blue').floorPercent).toBe(90);
  expect(stainOf('slide culture').floorPercent).toBe(0);
});
