import { expect, test } from 'vitest';
import { indexOfDispersion, pooledDispersion } from '#shared/science/dispersion.ts';
import student from '../../reference/student1907.json' with { type: 'json' };
import { relativeError } from '../../support/relativeError.ts';

function squaresOf(squaresHolding: readonly number[]): number[] {
  return squaresHolding.flatMap((squares, cells) => new Array<number>(squares).fill(cells));
}

test('indexOfDispersion(counts) finds A of Student 1907 clumped, B to D even', () => {
  expect(student.samples).toHaveLength(4);
  for (const sample of student.samples) {
    const squares = squaresOf(sample.squaresHolding);
    expect(squares).toHaveLength(400);
    const found = indexOfDispersion(squares);
    expect(relativeError(found?.statistic ?? NaN, sample.statistic)).toBeLessThan(1e-12);
    expect(relativeError(found?.pValue ?? NaN, sample.pValue)).toBeLessThan(1e-11);
    expect(found?.degreesOfFreedom).toBe(399);
    expect(found?.clumped).toBe(sample.clumped);
  }
});

test('the slide of sample D gives the same index as its table', () => {
  const onSlide = indexOfDispersion(student.slideOfD.flat());
  expect(relativeError(onSlide?.statistic ?? NaN, 380.991452991453)).toBeLessThan(1e-12);
});

// Ten corner squares quoted in a Master Brewers discussion: chi2 24.62 on 9 df, p .0034.
test('indexOfDispersion(counts) sends the ten uneven squares to a recount', () => {
  const found = indexOfDispersion([35, 41, 37, 47, 43, 45, 70, 46, 40, 29]);
  expect(found?.statistic.toFixed(2)).toBe('24.62');
  expect(found?.pValue.toFixed(4)).toBe('0.0034');
  expect(found?.clumped).toBe(true);
});

test('indexOfDispersion(counts) does not depend on the order of squares', () => {
  const one = indexOfDispersion([30, 42, 37, 51]);
  const other = indexOfDispersion([51, 37, 30, 42]);
  expect(one?.statistic).toBeCloseTo(other?.statistic ?? NaN, 12);
});

test('pooledDispersion(fillings) lets the fillings differ and adds their squares', () => {
  expect(
    pooledDispersion([
      [10, 10],
      [90, 90],
    ])?.statistic,
  ).toBe(0);
  expect(pooledDispersion([[8, 12], [90, 110], [7]])).toMatchObject({ degreesOfFreedom: 2 });
});

test('indexOfDispersion(counts) has no answer with one square or no cells', () => {
  expect(indexOfDispersion([])).toBeUndefined();
  expect(indexOfDispersion([12])).toBeUndefined();
  expect(indexOfDispersion([0, 0, 0])).toBeUndefined();
  expect(() => indexOfDispersion([1, -2])).toThrow(RangeError);
  expect(() => indexOfDispersion([1, NaN])).toThrow(RangeError);
});
