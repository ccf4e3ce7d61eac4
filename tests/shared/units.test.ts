import fc from 'fast-check';
import { expect, test } from 'vitest';
import * as units from '#shared/units.ts';

// Statute sizes: gallon 4.54609 L, barrel 36 gallons; US barrel 31 gallons of 3.785411784 L;
// pound 0.45359237 kg.
test('barrels, casks and pounds have their statute sizes', () => {
  expect(units.litresFromUkBarrels(1)).toBeCloseTo(163.65924, 12);
  expect(units.litresFromUkBarrels(10)).toBeCloseTo(1636.5924, 11);
  expect(units.litresFromUsBarrels(1)).toBeCloseTo(117.347765304, 11);
  expect(units.litresFromUkBarrels(1) / units.litresFromUsBarrels(1)).toBeCloseTo(1.39465, 5);
  expect(units.kilogramsFromPounds(1)).toBe(0.45359237);
  expect(units.litresFromHectolitres(16.4)).toBeCloseTo(1640, 12);
});

test.each([
  ['pin', '20.46'],
  ['firkin', '40.91'],
  ['kilderkin', '81.83'],
  ['barrel', '163.66'],
  ['hogshead', '245.49'],
] as const)('a %s holds %s L', (cask, litres) => {
  expect(units.litresFromCasks(1, cask).toFixed(2)).toBe(litres);
});

// Worked by hand: 453.59237 / 163.65924 = 2.77157; a UK barrel of water weighs 360 lb.
test('pounds per barrel and brewer’s pounds are as worked', () => {
  expect(units.gramsPerLitreFromPoundsPerUkBarrel(1)).toBeCloseTo(2.77157, 5);
  expect(units.poundsPerUkBarrelFromGramsPerLitre(10)).toBeCloseTo(3.60807, 5);
  expect(units.gramsPerLitreFromPoundsPerUsBarrel(1)).toBeCloseTo(3.86537, 5);
  expect(units.brewersPoundsFromExcessDegrees(40)).toBeCloseTo(14.4, 12);
});

test('water freezes at 32 and boils at 212 °F', () => {
  expect([32, 212, -40].map(units.celsiusFromFahrenheit)).toEqual([0, 100, -40]);
  expect(units.fahrenheitFromCelsius(16)).toBeCloseTo(60.8, 12);
});

const pairs: [string, (x: number) => number, (x: number) => number][] = [
  ['UK gallons', units.litresFromUkGallons, units.ukGallonsFromLitres],
  ['UK barrels', units.litresFromUkBarrels, units.ukBarrelsFromLitres],
  ['US gallons', units.litresFromUsGallons, units.usGallonsFromLitres],
  ['US barrels', units.litresFromUsBarrels, units.usBarrelsFromLitres],
  ['hectolitres', units.litresFromHectolitres, units.hectolitresFromLitres],
  ['pounds', units.kilogramsFromPounds, units.poundsFromKilograms],
  ['°F', units.celsiusFromFahrenheit, units.fahrenheitFromCelsius],
  [
    'lb per UK barrel',
    units.gramsPerLitreFromPoundsPerUkBarrel,
    units.poundsPerUkBarrelFromGramsPerLitre,
  ],
  [
    'lb per US barrel',
    units.gramsPerLitreFromPoundsPerUsBarrel,
    units.poundsPerUsBarrelFromGramsPerLitre,
  ],
  [
    'kg per hL',
    units.gramsPerLitreFromKilogramsPerHectolitre,
    units.kilogramsPerHectolitreFromGramsPerLitre,
  ],
  ['brewer’s pounds', units.excessDegreesFromBrewersPounds, units.brewersPoundsFromExcessDegrees],
  [
    'firkins',
    (casks) => units.litresFromCasks(casks, 'firkin'),
    (volumeL) => units.casksFromLitres(volumeL, 'firkin'),
  ],
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
