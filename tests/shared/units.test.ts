import fc from 'fast-check';
import { expect, test } from 'vitest';
import * as units from '#shared/units.ts';

// Statute sizes: gallon 4.54609 L, barrel 36 gallons; US barrel 31 gallons of 3.785411784 L;
// pound 0.45359237 kg.
test('gallons, barrels and pounds have their statute sizes', () => {
  expect(units.litresFromUkGallons(1)).toBe(4.54609);
  expect(units.LITRES_PER_UK_BARREL).toBeCloseTo(163.65924, 12);
  expect(units.LITRES_PER_US_BARREL).toBeCloseTo(117.347765304, 11);
  expect(units.LITRES_PER_UK_BARREL / units.LITRES_PER_US_BARREL).toBeCloseTo(1.39465, 5);
  expect(units.kilogramsFromPounds(1)).toBe(0.45359237);
});

// Worked by hand: 453.59237 / 163.65924 = 2.77157.
test('pounds per barrel are as worked', () => {
  expect(units.gramsPerLitreFromPoundsPerUkBarrel(1)).toBeCloseTo(2.77157, 5);
  expect(units.gramsPerLitreFromPoundsPerUsBarrel(1)).toBeCloseTo(3.86537, 5);
});

test('water freezes at 32 and boils at 212 °F', () => {
  expect([32, 212, -40].map(units.celsiusFromFahrenheit)).toEqual([0, 100, -40]);
  expect(units.fahrenheitFromCelsius(16)).toBeCloseTo(60.8, 12);
});

const pairs: [string, (x: number) => number, (x: number) => number][] = [
  ['UK gallons', units.litresFromUkGallons, units.ukGallonsFromLitres],
  ['pounds', units.kilogramsFromPounds, units.poundsFromKilograms],
  ['°F', units.celsiusFromFahrenheit, units.fahrenheitFromCelsius],
];

// °F passes through a difference of 32, so the digits are counted against that scale.
test.each(pairs)('%s return through storage within 1e-12', (_, stored, shown) => {
  fc.assert(
    fc.property(fc.double({ min: -1e6, max: 1e6, noNaN: true }), (value) => {
      const scale = Math.max(32, Math.abs(value));
      expect(Math.abs(shown(stored(value)) - value)).toBeLessThanOrEqual(1e-12 * scale);
      expect(Math.abs(stored(shown(value)) - value)).toBeLessThanOrEqual(1e-12 * scale);
    }),
  );
});
