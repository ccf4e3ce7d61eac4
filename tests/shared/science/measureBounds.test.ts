import { expect, test } from 'vitest';
import { withinBounds } from '#shared/science/measureBounds.ts';

test('withinBounds(limits, bounds) leaves limits that the measure can reach', () => {
  expect(withinBounds({ lower: 89.4, upper: 99.5 }, { floor: 0, ceiling: 100 })).toEqual({
    ...{ lower: 89.4, upper: 99.5, isAtFloor: false, isAtCeiling: false },
  });
  expect(withinBounds({ lower: -3, upper: 7 }, {})).toMatchObject({ lower: -3, upper: 7 });
});

test('withinBounds(limits, bounds) puts the bound in place of a limit beyond it, and says which', () => {
  expect(withinBounds({ lower: -1.1, upper: 3.4 }, { floor: 0, ceiling: 100 })).toEqual({
    ...{ lower: 0, upper: 3.4, isAtFloor: true, isAtCeiling: false },
  });
  expect(withinBounds({ lower: 89.4, upper: 101 }, { floor: 0, ceiling: 100 })).toEqual({
    ...{ lower: 89.4, upper: 100, isAtFloor: false, isAtCeiling: true },
  });
});

test('withinBounds(limits, bounds) keeps what else the limits carry, and a limit on the bound itself', () => {
  expect(withinBounds({ lower: 0, upper: 2, centre: 1 }, { floor: 0 })).toMatchObject({
    ...{ centre: 1, lower: 0, isAtFloor: false },
  });
});

test('withinBounds(limits, bounds) refuses what is the wrong way round', () => {
  expect(() => withinBounds({ lower: 2, upper: 1 }, {})).toThrow(RangeError);
  expect(() => withinBounds({ lower: 1, upper: 2 }, { floor: 3, ceiling: 2 })).toThrow(RangeError);
});
