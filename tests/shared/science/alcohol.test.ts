import { expect, test } from 'vitest';
import {
  abvBalling,
  abvHmrc,
  alcoholByWeight,
  dutyStrength,
  hmrcFactors,
} from '#shared/science/alcohol.ts';
import { sgFromExcessDegrees } from '#shared/science/gravity.ts';

// HMRC Excise Notice 226, 30.2-30.3, second hand; products worked by hand.
test.each([
  [1.04, 1.01, 3.87, 3.8],
  [1.057, 1.018, 5.07, 5.0],
  [1.048, 1.01, 4.94, 4.9],
  [1.034, 1.012, 2.816, 2.8],
  [1.065, 1.014, 6.681, 6.6],
])('abvHmrc(%f, %f) is %f, duty on %f', (og, pg, abv, duty) => {
  const found = abvHmrc(og, pg) ?? NaN;
  expect(found).toBeCloseTo(abv, 10);
  expect(dutyStrength(found)).toBe(duty);
});

// The table as printed: first and last fall of each band.
test.each([
  [0.1, 6.9, 0.125],
  [7.0, 10.4, 0.126],
  [10.5, 17.2, 0.127],
  [17.3, 26.1, 0.128],
  [26.2, 36.0, 0.129],
  [36.1, 46.5, 0.13],
  [46.6, 57.1, 0.131],
  [57.2, 67.9, 0.132],
  [68.0, 78.8, 0.133],
  [78.9, 89.7, 0.134],
  [89.8, 100.7, 0.135],
])('a fall of %f to %f degrees has the factor %f', (first, last, factor) => {
  for (const fall of [first, last]) {
    const og = sgFromExcessDegrees(110);
    const pg = sgFromExcessDegrees(110 - fall);
    expect(abvHmrc(og, pg)).toBeCloseTo(fall * factor, 10);
  }
});

test('a fall beyond the table has no factor, one between bands is rounded first', () => {
  expect(hmrcFactors).toHaveLength(11);
  expect(abvHmrc(1.11, 1.009)).toBeUndefined();
  expect(abvHmrc(1.05, 1.04306)).toBeCloseTo(6.9 * 0.125, 10);
  expect(abvHmrc(1.05, 1.04304)).toBeCloseTo(7 * 0.126, 10);
});

// HMRC technical guide, section 11: 7.59 is 7.5.
test('dutyStrength(abv) cuts to one decimal', () => {
  expect(dutyStrength(7.59)).toBe(7.5);
  expect(dutyStrength(3.9)).toBe(3.9);
  expect(dutyStrength(0.3)).toBe(0.3);
});

// Worked by hand with ICUMSA °P: 3.97 and 5.04 % by volume.
test('abvBalling(og, pg) is the worked strength', () => {
  expect(Math.abs(abvBalling(1.04, 1.01) - 3.97)).toBeLessThan(0.006);
  expect(Math.abs(abvBalling(1.048, 1.01) - 5.04)).toBeLessThan(0.006);
});

// Cutaia, Reid & Speers 2009, JIB 115:318-327, means of published sets: OE, RE and observed % by weight.
test.each([
  [11.34, 3.8, 3.82],
  [12.75, 4.74, 4.21],
  [17.67, 5.38, 6.56],
])('alcoholByWeight(%f, %f) is near the observed %f', (oe, re, observed) => {
  expect(Math.abs(alcoholByWeight(oe, re) - observed)).toBeLessThan(0.07);
});

test('the two formulae differ by about 0.1 % and are kept apart', () => {
  const gap = abvBalling(1.04, 1.01) - (abvHmrc(1.04, 1.01) ?? NaN);
  expect(gap).toBeGreaterThan(0.05);
  expect(gap).toBeLessThan(0.15);
});

test('a present gravity above the original is refused', () => {
  expect(() => abvHmrc(1.04, 1.05)).toThrow(
    'presentSg must be at most originalSg (1.04), got 1.05',
  );
  expect(() => abvBalling(NaN, 1)).toThrow(RangeError);
  expect(() => dutyStrength(-1)).toThrow(RangeError);
});
