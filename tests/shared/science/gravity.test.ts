import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  excessDegreesFromSg,
  platoFromSg,
  sgFromExcessDegrees,
  sgFromPlato,
} from '#shared/science/gravity.ts';

// [SG, °P by the cubic, °P recomputed apart from it from the ICUMSA sucrose density polynomial in air].
const rows = [
  [1.008, 2.051, 2.056],
  [1.01, 2.56, 2.565],
  [1.014, 3.574, 3.578],
  [1.03, 7.558, 7.56],
  [1.036, 9.024, 9.024],
  [1.04, 9.993, 9.992],
  [1.048, 11.911, 11.908],
  [1.05, 12.387, 12.383],
  [1.06, 14.741, 14.734],
  [1.08, 19.331, 19.32],
] as const;

test.each(rows)('platoFromSg(%f) is %f by the cubic and near ICUMSA', (sg, cubic, icumsa) => {
  expect(Math.abs(platoFromSg(sg) - cubic)).toBeLessThan(0.00051);
  expect(Math.abs(platoFromSg(sg) - icumsa)).toBeLessThan(0.0115);
});

// Printed to four decimals.
test.each([
  [10, 1.04],
  [12, 1.0484],
  [15, 1.0611],
  [20, 1.083],
])('sgFromPlato(%f) is %f', (plato, sg) => {
  expect(Number(sgFromPlato(plato).toFixed(4))).toBe(sg);
});

test('SG to °P and back returns within 1e-12', () => {
  fc.assert(
    fc.property(fc.double({ min: 0.95, max: 1.2, noNaN: true }), (sg) => {
      expect(Math.abs(sgFromPlato(platoFromSg(sg)) - sg)).toBeLessThan(1e-12);
    }),
  );
});

test('°P to SG and back returns within 1e-12 of the scale', () => {
  fc.assert(
    fc.property(fc.double({ min: -13, max: 43.9, noNaN: true }), (plato) => {
      expect(Math.abs(platoFromSg(sgFromPlato(plato)) - plato)).toBeLessThan(1e-12 * 614);
    }),
  );
});

test('degrees of gravity and back', () => {
  expect(excessDegreesFromSg(1.04)).toBeCloseTo(40, 10);
  fc.assert(
    fc.property(fc.double({ min: -50, max: 200, noNaN: true }), (degrees) => {
      const back = excessDegreesFromSg(sgFromExcessDegrees(degrees));
      expect(Math.abs(back - degrees)).toBeLessThan(1e-12 * 1000);
    }),
  );
});

test('a gravity of no wort or beer is refused', () => {
  for (const sg of [0.9, 1.3, 1040, NaN]) expect(() => platoFromSg(sg)).toThrow(RangeError);
  for (const plato of [-20, 60, NaN]) expect(() => sgFromPlato(plato)).toThrow(RangeError);
  expect(() => excessDegreesFromSg(40)).toThrow('gravitySg must be from 0.95 to 1.2, got 40');
  expect(() => sgFromExcessDegrees(1040)).toThrow(RangeError);
});
