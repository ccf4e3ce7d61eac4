import { expect, test } from 'vitest';
import { cellsPerMlFromSpunSolids, densityFallbacks } from '#shared/science/densityFallbacks.ts';

test('each fallback lies inside its own range', () => {
  expect(densityFallbacks).toHaveLength(6);
  for (const { low, central, high } of densityFallbacks) {
    expect(low).toBeLessThan(central);
    expect(central).toBeLessThan(high);
  }
});

// Cells per gram = dry matter / dry mass of a cell: 20 % / 50 pg = 4.0e9 to 27 % / 30 pg = 9.0e9, and
// the published pitch by weight worked back gives 3.4e9 to 4.5e9.
test('pressed yeast lies where both ways of reckoning meet', () => {
  const pressed = densityFallbacks.find(({ id }) => id === 'pressed');
  expect(pressed?.low).toBeGreaterThan(3.4e9);
  expect(pressed?.central).toBeGreaterThan(0.2 / 50e-12);
  expect(pressed?.high).toBeLessThan(0.27 / 30e-12);
});

// Remembered: slurry of 40 % wet solids holds 1.0e9 to 1.8e9 cells/mL.
test('40 % spun solids are an ordinary slurry', () => {
  const { cellsPerMl, low, high } = cellsPerMlFromSpunSolids(40);
  expect([low, high]).toEqual([1e9, 1.8e9]);
  expect(cellsPerMl).toBeCloseTo(1.36e9, 3);
  for (const percent of [0, 101, NaN]) {
    expect(() => cellsPerMlFromSpunSolids(percent)).toThrow(RangeError);
  }
});
