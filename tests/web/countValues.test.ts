import { expect, test } from 'vitest';
import { entry } from '#shared/entries/entry.ts';
import { cellConcentration } from '#shared/science/cellCount.ts';
import type { CountValues } from '../../web/components/bench/countFields.ts';
import {
  cellCountOf,
  countEntry,
  fitsForm,
  startFromCount,
  startFromLastCount,
} from '../../web/components/bench/countValues.ts';

const lotId = '0190aaaa-0000-7000-8000-000000000001';
const nothing: CountValues = {
  basis: 'mL',
  chamber: 'improved Neubauer, medium squares',
  squareAreaMm2: undefined,
  depthMm: undefined,
  pipettingSteps: 1,
  diluent: undefined,
  factor1: undefined,
  factor2: undefined,
  factor3: undefined,
  squares1A: undefined,
  squares1B: undefined,
  squares2A: undefined,
  squares2B: undefined,
  squares3A: undefined,
  squares3B: undefined,
  note: undefined,
};
const spread = { chamberCvPercent: 4.6, pipettingCvPercent: 4.7 };

// Arithmetic of the ruling: 187 × 5 × 100 × 10⁴ = 9.35 × 10⁸ cells per mL.
test('187 cells in five medium squares at 1 in 100 are 935 million per mL', () => {
  const values = { ...nothing, factor1: 100, squares1A: [37, 38, 37, 38, 37] };
  const count = cellCountOf(values, spread);
  if (count === undefined) throw new Error('nothing to work out');
  expect(cellConcentration(count).cellsPerMl / 9.35e8).toBeCloseTo(1, 12);
});

test('nothing is worked out before there is a square and a factor', () => {
  expect(cellCountOf(nothing, spread)).toBeUndefined();
  expect(cellCountOf({ ...nothing, factor1: 100 }, spread)).toBeUndefined();
  expect(cellCountOf({ ...nothing, squares1A: [30] }, spread)).toBeUndefined();
  expect(cellCountOf({ ...nothing, factor1: 0.5, squares1A: [30] }, spread)).toBeUndefined();
});

test('a second dilution without its own factor takes the first', () => {
  const values = { ...nothing, factor1: 100, squares1A: [30], squares2A: [33] };
  expect(cellCountOf(values, spread)?.fillings).toEqual([
    { squares: [30], dilutionFactor: 100, dilution: 1 },
    { squares: [33], dilutionFactor: 100, dilution: 2 },
  ]);
});

test('a count as entered is a valid entry and comes back to be corrected', () => {
  const values = {
    ...nothing,
    factor1: 100,
    factor2: 200,
    squares1A: [37, 38],
    squares1B: [41],
    squares2A: [20],
  };
  const envelope = { happenedAt: '2026-03-01T09:00:00Z', by: 'Nell' };
  const parsed = entry.safeParse({ ...countEntry(lotId, values), ...envelope });
  if (parsed.data?.kind !== 'count') throw new Error('not a count');
  expect(fitsForm(parsed.data)).toBe(true);
  expect(startFromCount(parsed.data)).toMatchObject({
    basis: 'mL',
    chamber: 'improved Neubauer, medium squares',
    factor1: '100',
    factor2: '200',
    squares1A: '37,38',
    squares1B: '41',
    squares2A: '20',
  });
});

test('the next count starts from the slide and dilution of the last, not its cells', () => {
  const values = { ...nothing, factor1: 100, squares1A: [37, 38] };
  const envelope = { happenedAt: '2026-03-01T09:00:00Z', by: 'Nell' };
  const parsed = entry.safeParse({ ...countEntry(lotId, values), ...envelope });
  if (parsed.data?.kind !== 'count') throw new Error('not a count');
  expect(startFromLastCount(parsed.data, 'L')).toEqual({
    basis: 'mL',
    chamber: 'improved Neubauer, medium squares',
    pipettingSteps: '1',
    diluent: '',
    factor1: '100',
  });
  expect(startFromLastCount(parsed.data, 'kg')).toMatchObject({ basis: 'g', factor1: '' });
});

test('another chamber is corrected by its own area and depth', () => {
  const values: CountValues = {
    ...nothing,
    chamber: 'own',
    squareAreaMm2: 0.0025,
    depthMm: 0.02,
    factor1: 10,
    squares1A: [5],
  };
  const envelope = { happenedAt: '2026-03-01T09:00:00Z', by: 'Nell' };
  const parsed = entry.safeParse({ ...countEntry(lotId, values), ...envelope });
  if (parsed.data?.kind !== 'count') throw new Error('not a count');
  expect(startFromCount(parsed.data)).toMatchObject({
    chamber: 'own',
    squareAreaMm2: '0.0025',
    depthMm: '0.02',
  });
});
