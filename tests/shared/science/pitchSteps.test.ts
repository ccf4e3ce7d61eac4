import { expect, test } from 'vitest';
import { pitchSteps } from '#shared/science/pitchSteps.ts';

test('pitchSteps(…) multiplies out to the cells wanted', () => {
  const lot = {
    ...{ id: 'B7', unit: 'kg' as const, cellsPerG: 4.5e9, concentrationLogSd: 0.1 },
    ...{ viability: 0.94, viabilityLogSd: 0.01, survival: 0.95 },
  };
  const perKilogram = 1000 * 4.5e9 * 0.94 * 0.95;
  const steps = pitchSteps({ cellsPerMl: 7.5e6, viableCells: 3 * perKilogram }, [lot], [3]);
  expect(steps.map(({ unit }) => unit)).toEqual(['cells/mL', 'cells', 'cells/kg', 'kg', 'cells']);
  expect(steps[2]?.value).toBeCloseTo(perKilogram, -3);
  expect(steps[2]?.formula).toContain('surviving in store');
  expect(steps[4]?.value).toBeCloseTo(steps[1]?.value ?? NaN, -3);
});
