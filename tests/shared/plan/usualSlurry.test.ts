import { expect, test } from 'vitest';
import { usualSlurry } from '#shared/plan/usualSlurry.ts';

const strain = { id: 'north', crops: 'top' } as const;
const exactly = (value: number) => ({ value, low: value, high: value });
const lot = (strainId: string, ageHours: number, value: number) => ({
  ...{ strain: { id: strainId }, ageHours },
  learned: {
    usualCells: {
      ...{ value, low: value, high: value, logSd: 0.1, lots: 12 },
      ...({ unit: 'L', origin: 'skim 2' } as const),
    },
  },
});

// Skimmed barm of 1.8 (1.0 to 3.3) thousand million cells/g, 95 % alive, holds 1.71e12 living
// cells/kg; its range is a factor of sqrt(3.3) to either side.
test('cells of a strain without lots are said as skimmed barm, a guess', () => {
  const said = usualSlurry(exactly(1.71e13), { strain, lots: [], viability: exactly(0.95) });
  expect(said).toMatchObject({ unit: 'kg', lots: 0 });
  expect(said.value).toBeCloseTo(10, 9);
  expect(said.low).toBeCloseTo(10 / Math.sqrt(3.3), 6);
  expect(said.high).toBeCloseTo(10 * Math.sqrt(3.3), 6);
});

// From a cone it is slurry, of unknown thickness: 1.2 (0.25 to 4) thousand million cells/mL, so 1.14e12
// living cells/L at 95 %; the range is a factor of sqrt(4 / 0.25) to either side.
test('cells of a strain cropped from below are said in litres', () => {
  const cone = { id: 'north', crops: 'bottom' } as const;
  const said = usualSlurry(exactly(1.14e13), { strain: cone, lots: [], viability: exactly(0.95) });
  expect(said).toMatchObject({ unit: 'L', lots: 0 });
  expect(said.value).toBeCloseTo(10, 9);
  expect(said.low).toBeCloseTo(2.5, 6);
  expect(said.high).toBeCloseTo(40, 6);
});

// 1.3e9 cells/mL, all alive: 20 L hold 2.6e13; 1.96 standard deviations of 0.1 are a factor of 1.2166.
test('cells are said as the strain’s youngest lot usually is', () => {
  const lots = [lot('north', 90, 5e9), lot('north', 4, 1.3e9), lot('south', 1, 9e9)];
  const said = usualSlurry(exactly(2.6e13), { strain, lots, viability: exactly(1) });
  expect(said).toMatchObject({ unit: 'L', lots: 12, cellsPerUnit: 1.3e12 });
  expect(said.value).toBeCloseTo(20, 9);
  expect(said.high).toBeCloseTo(24.33, 2);
  expect(said.low).toBeCloseTo(16.44, 2);
});

test('the doubt about what is missing widens the amount, down to none', () => {
  const known = { strain, lots: [lot('north', 4, 1.3e9)], viability: exactly(1) };
  const sure = usualSlurry(exactly(2.6e13), known);
  const unsure = usualSlurry({ value: 2.6e13, low: 0, high: 3.9e13 }, known);
  expect(unsure.low).toBe(0);
  // Half as much again and a factor of 1.2166 together, as logarithms in quadrature: exp(0.45035) is 1.5689.
  expect(unsure.high / sure.value).toBeCloseTo(1.5689, 3);
});
