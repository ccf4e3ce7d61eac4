import { expect, test } from 'vitest';
import type { PitchLot } from '#shared/science/lotContribution.ts';
import { pitchAmounts } from '#shared/science/pitchAmounts.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const lot: PitchLot = {
  ...{ unit: 'L', cellsPerMl: 1e9, viability: 1, viabilityLogSd: 0 },
  ...{ concentrationLogSd: 0.1 },
};

test('the range of a completing lot carries the error of the one used up', () => {
  const first = { ...lot, available: 8, concentrationLogSd: 0.12 };
  const [, second] = pitchAmounts(1e13, [first, lot]);
  const random = seededRandom(7);
  const amounts = Array.from({ length: 40_000 }, () => {
    const brought = 8 * random.logNormal(0.12);
    return Math.max(0, 10 - brought) / random.logNormal(0.1);
  }).sort((a, b) => a - b);
  expect(second?.amount).toBeCloseTo(2, 12);
  expect(second?.low).toBeLessThan(0.2);
  expect(amounts[1000]).toBeLessThan(0.2);
  expect(Math.abs((second?.high ?? NaN) / (amounts[39_000] ?? NaN) - 1)).toBeLessThan(0.05);
});

test('the range of a lone lot is its own log-normal', () => {
  const [only] = pitchAmounts(5e12, [lot]);
  expect(only?.amount).toBeCloseTo(5, 12);
  expect((only?.high ?? NaN) / 5).toBeCloseTo(Math.exp(0.1959964), 6);
  expect((only?.low ?? NaN) / 5).toBeCloseTo(Math.exp(-0.1959964), 6);
});

test('lots known exactly have no range', () => {
  const exact = { ...lot, concentrationLogSd: 0 };
  const [, second] = pitchAmounts(1e13, [{ ...exact, available: 4 }, exact]);
  expect(second?.low).toBeCloseTo(6, 9);
  expect(second?.high).toBeCloseTo(6, 9);
});
