import { expect, test } from 'vitest';
import { valueAt } from '#shared/science/valueAt.ts';

test('valueAt(values, index) returns an element that exists and refuses one that does not', () => {
  expect(valueAt([7, 0], 1)).toBe(0);
  expect(() => valueAt([7, 0], 2)).toThrow('valueAt: index must be in the list, got 2');
  expect(() => valueAt([7, 0], -1)).toThrow(RangeError);
});
