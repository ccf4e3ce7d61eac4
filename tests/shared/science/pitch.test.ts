import fc from 'fast-check';
import { expect, test } from 'vitest';
import { platoFromSg } from '#shared/science/gravity.ts';
import type { PitchLot } from '#shared/science/lotContribution.ts';
import { pitchPlan, rateFromAmount, viableCellsNeeded } from '#shared/science/pitch.ts';
import { relativeError } from '../../support/relativeError.ts';

const tenBarrels = { volumeL: 1636.5924, gravityPlato: 9.992 };
const slurry: PitchLot = {
  unit: 'L',
  cellsPerMl: 1.2e9,
  concentrationLogSd: 0.07,
  viability: 0.94,
  viabilityLogSd: 0.015,
};
const pressed: PitchLot = {
  ...{ unit: 'kg', cellsPerG: 4.5e9, concentrationLogSd: 0.158, counted: false },
  ...{ viability: 0.94, viabilityLogSd: 0.015 },
};
const ale = { wort: tenBarrels, rateMillionPerMlPerPlato: 0.75 };

// Worked by hand: 10 UK barrels at 1040 (9.992 °P), 0.75 million per mL per °P.
test('ten barrels of 1040 need 1.2265e13 living cells', () => {
  const needed = viableCellsNeeded({ ...tenBarrels, rateMillionPerMlPerPlato: 0.75 });
  expect(needed.toPrecision(5)).toBe('1.2265e+13');
  const byCubic = { volumeL: 1636.5924, gravityPlato: platoFromSg(1.04) };
  const again = viableCellsNeeded({ ...byCubic, rateMillionPerMlPerPlato: 0.75 });
  expect(relativeError(again, 1.2265e13)).toBeLessThan(2e-4);
});

test('they take 10.87 L of slurry or 2.90 kg of pressed yeast', () => {
  const [fromSlurry] = pitchPlan({ ...ale, lots: [slurry] }).lots;
  expect(fromSlurry?.amount.toFixed(2)).toBe('10.87');
  const [fromPressed] = pitchPlan({ ...ale, lots: [pressed] }).lots;
  expect(fromPressed?.amount.toFixed(2)).toBe('2.90');
});

// Same worked case with other cells per gram.
test.each([
  [3.5e9, '3.73'],
  [6e9, '2.17'],
  [1e10, '1.30'],
])('at %f cells/g they take %s kg', (cellsPerG, kilograms) => {
  const [lot] = pitchPlan({ ...ale, lots: [{ ...pressed, cellsPerG }] }).lots;
  expect(lot?.amount.toFixed(2)).toBe(kilograms);
});

test('the plan carries range, chances and working of one lot', () => {
  const plan = pitchPlan({ ...ale, lots: [{ ...slurry, available: 40 }] });
  const [lot] = plan.lots;
  const spread = Math.exp(1.959964 * Math.hypot(0.07, 0.015));
  expect(lot?.low).toBeCloseTo(10.873 / spread, 3);
  expect(lot?.high).toBeCloseTo(10.873 * spread, 3);
  expect(lot).toMatchObject({ id: '1', share: 1, overdrawn: false });
  expect(lot?.leftAfter).toBeCloseTo(29.127, 3);
  expect(plan.shortage).toBeUndefined();
  expect(plan.achieved.rateMillionPerMlPerPlato).toBeCloseTo(0.75, 12);
  expect(plan.cellsPerMlNeeded).toBeCloseTo(7.494e6, 0);
  expect(plan.chanceBelow.map(({ fraction }) => fraction)).toEqual([0.8, 0.9]);
  // ln(0.9) / 0.0716 = -1.472, Phi = 0.0705.
  expect(plan.chanceBelow[1]?.chance).toBeCloseTo(0.0705, 3);
  expect(plan.steps.at(-1)).toMatchObject({ unit: 'cells' });
  expect(plan.steps.at(-1)?.value).toBeCloseTo(plan.viableCellsNeeded, -3);
});

test('a viability that is only an upper limit makes the amount a least and the rate a most', () => {
  const weak = { ...slurry, viability: 0.85, viabilityAtMost: true };
  const plan = pitchPlan({ ...ale, lots: [weak] });
  expect(plan.lots[0]).toMatchObject({ high: Infinity });
  expect(plan.lots[0]?.amount).toBeCloseTo((10.873 * 0.94) / 0.85, 3);
  expect(plan.achieved).toMatchObject({ low: 0, atMost: true });
  expect(plan.narrowing.map(({ measurement }) => measurement)).not.toContain('stain');
  const unused = pitchPlan({ ...ale, lots: [slurry, weak] });
  expect(unused.achieved.atMost).toBe(false);
  expect(unused.lots[0]?.high).toBeLessThan(20);
  const used = pitchPlan({ ...ale, lots: [{ ...weak, available: 2 }, slurry] });
  expect(used.lots[1]?.high).toBe(Infinity);
});

test('lots are used in order, each up to what is left', () => {
  const lots = [
    { ...slurry, id: 'A', available: 4 },
    { ...slurry, id: 'B', available: 3 },
    { ...slurry, id: 'C', available: 20 },
    { ...slurry, id: 'D' },
  ];
  const plan = pitchPlan({ ...ale, lots });
  expect(plan.lots.map(({ amount }) => amount.toFixed(2))).toEqual([
    '4.00',
    '3.00',
    '3.87',
    '0.00',
  ]);
  expect(plan.lots.map(({ leftAfter }) => leftAfter?.toFixed(2))).toEqual([
    '0.00',
    '0.00',
    '16.13',
    undefined,
  ]);
  expect(plan.lots[0]).toMatchObject({ low: 4, high: 4 });
  expect(plan.lots[2]?.low).toBeLessThan(3.87);
  expect(plan.lots.reduce((sum, { share }) => sum + share, 0)).toBeCloseTo(1, 12);
});

test('what the lots cannot give is the shortage', () => {
  const plan = pitchPlan({ ...ale, lots: [{ ...slurry, available: 8 }] });
  expect(plan.lots[0]?.amount).toBe(8);
  expect(plan.shortage?.fraction).toBeCloseTo(1 - 8 / 10.873, 4);
  expect(plan.achieved.rateMillionPerMlPerPlato).toBeCloseTo((0.75 * 8) / 10.873, 4);
  // ln(0.8 / 0.73577) / 0.0716 = 1.169, Phi = 0.8788.
  expect(plan.chanceBelow[0]?.chance).toBeCloseTo(0.8788, 3);
  const nearly = pitchPlan({ ...ale, lots: [{ ...slurry, available: 10 }] });
  expect(nearly.shortage?.fraction).toBeCloseTo(1 - 10 / 10.873, 4);
  const halves = [
    { ...slurry, available: 4 },
    { ...slurry, available: 4 },
  ];
  expect(pitchPlan({ ...ale, lots: halves }).lots.map(({ share }) => share)).toEqual([0.5, 0.5]);
  const none = pitchPlan({ ...ale, lots: [] });
  expect(none.shortage?.fraction).toBe(1);
  expect(none.achieved).toEqual({
    ...{ rateMillionPerMlPerPlato: 0, low: 0, high: 0 },
    atMost: false,
  });
  expect(none.chanceBelow[0]?.chance).toBe(1);
});

test('an amount fixed by the brewer counts first, and may overdraw', () => {
  const lots = [slurry, { ...slurry, use: 6, available: 5 }];
  const plan = pitchPlan({ ...ale, lots });
  expect(plan.lots[0]?.amount).toBeCloseTo(4.873, 3);
  expect(plan.lots[1]).toMatchObject({ amount: 6, overdrawn: true, leftAfter: 0 });
  const emptied = pitchPlan({ ...ale, lots: [{ ...slurry, use: 6, available: 6 }] });
  expect(emptied.lots[0]).toMatchObject({ amount: 6, overdrawn: false, leftAfter: 0 });
  const tooMuch = pitchPlan({ ...ale, lots: [slurry, { ...slurry, use: 20 }] });
  expect(tooMuch.lots[0]).toMatchObject({ amount: 0, low: 0, high: 0 });
});

test('a guess is narrowed most by a count, a sure count least by a stain', () => {
  const guessed = pitchPlan({ ...ale, lots: [pressed] }).narrowing;
  expect(guessed[0]?.measurement).toBe('count');
  expect(guessed.map(({ measurement }) => measurement)).not.toContain('second chamber');
  expect(guessed[0]?.fromPercent).toBeCloseTo(100 * Math.expm1(1.959964 * 0.15871), 3);
  const counted = pitchPlan({ ...ale, lots: [slurry] }).narrowing;
  expect(counted.map(({ measurement }) => measurement)).toEqual([
    'count',
    'second chamber',
    'stain',
  ]);
  const old = { ...slurry, survival: 0.8, survivalLogSd: 0.16 };
  expect(pitchPlan({ ...ale, lots: [old] }).narrowing[0]?.measurement).toBe('storage');
});

test('rateFromAmount(…) undoes pitchPlan(…)', () => {
  const lots = [
    { ...slurry, use: 7 },
    { ...pressed, use: 1.5 },
  ];
  const found = rateFromAmount({ wort: tenBarrels, lots });
  const plan = pitchPlan({ wort: tenBarrels, ...found, lots });
  expect(plan.achieved).toEqual(found);
  expect(plan.shortage).toBeUndefined();
  const [first] = pitchPlan({ ...ale, lots: [slurry] }).lots;
  const back = rateFromAmount({
    wort: tenBarrels,
    lots: [{ ...slurry, use: first?.amount ?? NaN }],
  });
  expect(back.rateMillionPerMlPerPlato).toBeCloseTo(0.75, 12);
});

const anyLot: fc.Arbitrary<PitchLot> = fc.record({
  unit: fc.constant<'L'>('L'),
  cellsPerMl: fc.double({ min: 1e6, max: 5e9, noNaN: true }),
  concentrationLogSd: fc.double({ min: 0, max: 0.7, noNaN: true }),
  viability: fc.double({ min: 0.2, max: 1, noNaN: true }),
  viabilityLogSd: fc.double({ min: 0, max: 0.1, noNaN: true }),
  available: fc.double({ min: 0, max: 60, noNaN: true }),
});
const anyWort = fc.record({
  volumeL: fc.double({ min: 10, max: 5000, noNaN: true }),
  gravityPlato: fc.double({ min: 5, max: 25, noNaN: true }),
});

test('twice the volume takes twice the amount, half the viability too', () => {
  fc.assert(
    fc.property(anyWort, anyLot, (wort, lot) => {
      const unlimited = { ...lot, available: undefined };
      const amountOf = (volumeL: number, viability: number) =>
        pitchPlan({
          wort: { ...wort, volumeL },
          rateMillionPerMlPerPlato: 0.75,
          lots: [{ ...unlimited, viability }],
        }).lots[0]?.amount ?? NaN;
      const once = amountOf(wort.volumeL, lot.viability);
      expect(relativeError(amountOf(2 * wort.volumeL, lot.viability), 2 * once)).toBeLessThan(
        1e-12,
      );
      expect(relativeError(amountOf(wort.volumeL, lot.viability / 2), 2 * once)).toBeLessThan(
        1e-12,
      );
    }),
  );
});

test('the order of lots does not change the cells pitched, and nothing is negative', () => {
  fc.assert(
    fc.property(anyWort, fc.array(anyLot, { minLength: 1, maxLength: 4 }), (wort, lots) => {
      const plan = (order: PitchLot[]) =>
        pitchPlan({ wort, rateMillionPerMlPerPlato: 0.75, lots: order });
      const forwards = plan(lots);
      const rate = forwards.achieved.rateMillionPerMlPerPlato;
      const backwards = plan(lots.toReversed()).achieved.rateMillionPerMlPerPlato;
      expect(Math.abs(rate - backwards)).toBeLessThan(1e-9 * 0.75);
      for (const { amount, low, high, leftAfter = NaN, share } of forwards.lots) {
        for (const figure of [amount, low, leftAfter, share]) {
          expect(figure).toBeGreaterThanOrEqual(0);
        }
        expect(high).toBeGreaterThanOrEqual(low);
      }
      expect(rate).toBeLessThanOrEqual(0.75 * (1 + 1e-9));
    }),
  );
});

test('pitchPlan(…) refuses a wort or rate without meaning', () => {
  expect(() => pitchPlan({ ...ale, rateMillionPerMlPerPlato: 0, lots: [slurry] })).toThrow(
    'rateMillionPerMlPerPlato must be > 0, got 0',
  );
  expect(() => pitchPlan({ ...ale, wort: { volumeL: NaN, gravityPlato: 10 }, lots: [] })).toThrow(
    RangeError,
  );
  expect(() => pitchPlan({ ...ale, lots: [{ ...slurry, use: -1 }] })).toThrow(RangeError);
  expect(() => pitchPlan({ ...ale, lots: [{ ...slurry, available: -1 }] })).toThrow(RangeError);
});
