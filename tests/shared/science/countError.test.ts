import { expect, test } from 'vitest';
import { countParts } from '#shared/science/countError.ts';

const chamber = { squareAreaMm2: 0.04, depthMm: 0.1 };
const even = (cells: number) => ({ squares: [cells, cells], dilutionFactor: 10 });

test('countParts(…) adds cells, squares and sample', () => {
  const parts = countParts({ ...chamber, fillings: [even(40), even(44)] });
  expect(parts).toMatchObject({ cells: 168, squares: 4, inflation: 1 });
  expect(parts.totalMl).toBeCloseTo((4 * 4e-6) / 10, 18);
  expect(parts.sampleMl.reduce((sum, ml) => sum + ml, 0)).toBeCloseTo(parts.totalMl, 18);
});

// By hand: E = 200, moments: (2 x 50^2/200 - 1) / (400 x 1/2) = 0.12 less 0.046^2, halved by two.
test('fillings far apart add what their own spread shows', () => {
  const { otherParts } = countParts({ ...chamber, fillings: [even(75), even(125)] });
  const between = otherParts.find(({ part }) => part === 'between fillings');
  expect(between?.relativeVariance).toBeCloseTo((0.12 - 0.046 ** 2) / 2, 12);
});

test('fillings as far apart as a chamber explains add nothing', () => {
  const { otherParts } = countParts({ ...chamber, fillings: [even(95), even(105)] });
  expect(otherParts.map(({ part }) => part)).toEqual(['chamber', 'pipetting']);
});

test('clumped squares weigh as fewer cells, unless counting alone is asked for', () => {
  const clumped = { ...chamber, fillings: [{ squares: [10, 90], dilutionFactor: 1 }] };
  // X^2 = 2 x 40^2 / 50 = 64 on 1 degree of freedom.
  expect(countParts(clumped).inflation).toBeCloseTo(64, 12);
  expect(countParts({ ...clumped, countingOnly: true })).toMatchObject({
    inflation: 1,
    otherParts: [],
  });
});
