import fc from 'fast-check';
import { expect, test } from 'vitest';
import { type BlendPart, blendOf } from '#shared/science/blend.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const part: BlendPart = {
  ...{ unit: 'L', cellsPerMl: 1.2e9, concentrationLogSd: 0.08, amount: 6 },
  ...{ viability: 0.96, viabilityLogSd: 0.012 },
};
const other: BlendPart = { ...part, cellsPerMl: 0.6e9, viability: 0.8, amount: 4 };

// By hand: (6 × 1.2 + 4 × 0.6) / 10 = 0.96e9; alive (7.2 × 0.96 + 2.4 × 0.8) / 9.6 = 0.92.
test('a blend is weighted by the cells each lot brings', () => {
  const { amount, cellsPer, viability, unit } = blendOf([part, other]);
  expect([amount, unit]).toEqual([10, 'L']);
  expect(cellsPer.value / 0.96e9).toBeCloseTo(1, 12);
  expect(viability.value).toBeCloseTo(0.92, 12);
});

// By hand as above, the second lot half gone in store: (7.2 × 0.96 + 2.4 × 0.8 × 0.5) / 9.6 = 0.82.
test('what died in store counts among the cells of a blend, not among the living', () => {
  const { cellsPer, viability } = blendOf([part, { ...other, survival: 0.5 }]);
  expect(cellsPer.value / 0.96e9).toBeCloseTo(1, 12);
  expect(viability.value).toBeCloseTo(0.82, 12);
});

// By hand, weights 0.75 and 0.25 about 0.92: (0.72² + 0.2²) 0.012² + (0.75² 0.04² + 0.25² 0.12²) 0.08²
// = 9.193e-5; with 0.016 more for the store, 0.02 in place of 0.012: 2.349e-4.
test('the spread of a blend’s viability holds that of shares, of cells and of the store', () => {
  expect(blendOf([part, other]).viabilityLogSd).toBeCloseTo(Math.sqrt(9.193e-5) / 0.92, 6);
  const stored = { survival: 1, survivalLogSd: 0.016 };
  const { viabilityLogSd } = blendOf([
    { ...part, ...stored },
    { ...other, ...stored },
  ]);
  expect(viabilityLogSd).toBeCloseTo(Math.sqrt(2.349e-4) / 0.92, 5);
});

test('halves of one lot make that lot again, but for their own errors', () => {
  const { cellsPer, viability } = blendOf([part, part]);
  expect(cellsPer.value / 1.2e9).toBeCloseTo(1, 12);
  expect(viability.value).toBeCloseTo(0.96, 12);
});

// Seen: 0.951 of cells, 0.947 of viability.
test('its ranges cover 93 to 97 % in 4000 seeded trials', () => {
  const random = seededRandom(64);
  const noisy = (lot: BlendPart): BlendPart => ({
    ...lot,
    cellsPerMl: (lot.cellsPerMl ?? 0) * random.logNormal(lot.concentrationLogSd),
    viability: Math.min(1, lot.viability * random.logNormal(lot.viabilityLogSd)),
  });
  let [cells, alive] = [0, 0];
  for (let trial = 0; trial < 4000; trial++) {
    const seen = blendOf([noisy({ ...part, viability: 0.9 }), noisy(other)]);
    if (seen.cellsPer.low <= 0.96e9 && 0.96e9 <= seen.cellsPer.high) cells++;
    const truth = (7.2 * 0.9 + 2.4 * 0.8) / 9.6;
    if (seen.viability.low <= truth && truth <= seen.viability.high) alive++;
  }
  for (const share of [cells / 4000, alive / 4000]) {
    expect(share).toBeGreaterThan(0.93);
    expect(share).toBeLessThan(0.97);
  }
});

test('the order does not matter, and a blend lies between its lots', () => {
  const anyPart = fc.record({
    unit: fc.constant<'L'>('L'),
    cellsPerMl: fc.double({ min: 1e7, max: 5e9, noNaN: true }),
    concentrationLogSd: fc.double({ min: 0.01, max: 0.4, noNaN: true }),
    viability: fc.double({ min: 0.3, max: 1, noNaN: true }),
    viabilityLogSd: fc.double({ min: 0, max: 0.1, noNaN: true }),
    amount: fc.double({ min: 0.1, max: 50, noNaN: true }),
  });
  fc.assert(
    fc.property(fc.array(anyPart, { minLength: 2, maxLength: 5 }), (parts) => {
      const { viability, cellsPer } = blendOf(parts);
      const shares = parts.map((lot) => lot.viability);
      expect(viability.value).toBeGreaterThanOrEqual(Math.min(...shares) * (1 - 1e-9));
      expect(viability.value).toBeLessThanOrEqual(Math.max(...shares) * (1 + 1e-9));
      const backwards = blendOf(parts.toReversed());
      expect(backwards.cellsPer.value / cellsPer.value).toBeCloseTo(1, 9);
      expect(backwards.viability.low / viability.low).toBeCloseTo(1, 9);
    }),
  );
});

// Shares of 0.99 known to within 5 %: two halves come to 3.5 %, and 0.99 exp(1.96 × 0.035) is over 1.
test('no more than all of a blend is alive, however wide its range', () => {
  const unsure = { ...part, viability: 0.99, viabilityLogSd: 0.05 };
  const { viability } = blendOf([unsure, unsure]);
  expect(viability.high).toBe(1);
  expect(viability.low).toBeCloseTo(0.99 * Math.exp((-1.959964 * 0.05) / Math.SQRT2), 6);
});

test('one upper limit in it makes the whole an upper limit', () => {
  expect(blendOf([part, { ...other, viabilityAtMost: true }]).viabilityAtMost).toBe(true);
  expect(blendOf([part, other]).viabilityAtMost).toBe(false);
});

test('blendOf(parts) refuses two units and amounts of nothing', () => {
  expect(() => blendOf([])).toThrow('parts must hold at least one, got 0');
  expect(() => blendOf([part, { ...part, amount: 0 }])).toThrow(RangeError);
  expect(() => blendOf([part, { ...other, unit: 'kg', cellsPerG: 1e9 }])).toThrow('one unit');
});
