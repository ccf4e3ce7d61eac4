import { expect, test } from 'vitest';
import {
  lotContribution,
  type PitchLot,
  variancesOf,
  viableCellsPerUnit,
} from '#shared/science/lotContribution.ts';

const slurry: PitchLot = {
  unit: 'L',
  cellsPerMl: 1.2e9,
  concentrationLogSd: 0.06,
  viability: 0.94,
  viabilityLogSd: 0.02,
};

test('a litre of slurry holds its cells times the share alive', () => {
  expect(viableCellsPerUnit(slurry).median).toBeCloseTo(1.128e12, -3);
  expect(lotContribution(slurry, 10).median).toBeCloseTo(1.128e13, -3);
});

test('a kilogram of pressed yeast counts by the gram', () => {
  const pressed: PitchLot = { ...slurry, unit: 'kg', cellsPerG: 4.5e9, cellsPerMl: undefined };
  expect(viableCellsPerUnit(pressed).median).toBeCloseTo(4.23e12, -3);
});

test('time in store takes cells and adds its variance', () => {
  const stored = { ...slurry, survival: 0.9, survivalLogSd: 0.08 };
  const fresh = viableCellsPerUnit(slurry);
  const later = viableCellsPerUnit(stored);
  expect(later.median / fresh.median).toBeCloseTo(0.9, 12);
  expect(later.logSd).toBeCloseTo(Math.hypot(0.06, 0.02, 0.08), 12);
  expect(variancesOf(stored).survival).toBeCloseTo(0.0064, 12);
});

test('a lot without a concentration for its unit is refused', () => {
  expect(() => viableCellsPerUnit({ ...slurry, cellsPerMl: undefined })).toThrow(RangeError);
  expect(() => viableCellsPerUnit({ ...slurry, viability: 0 })).toThrow(
    'viability must be above 0 and at most 1, got 0',
  );
  expect(() => viableCellsPerUnit({ ...slurry, viability: 94 })).toThrow(RangeError);
  expect(() => viableCellsPerUnit({ ...slurry, survival: NaN })).toThrow(RangeError);
  expect(() => viableCellsPerUnit({ ...slurry, concentrationLogSd: -1 })).toThrow(RangeError);
  expect(() => lotContribution(slurry, -1)).toThrow(RangeError);
});
