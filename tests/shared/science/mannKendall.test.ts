import { expect, test } from 'vitest';
import { mannKendall } from '#shared/science/mannKendall.ts';

test('mannKendall(values) of an unbroken rise has the exact chance 2 / n!', () => {
  const factorials = [6, 24, 120, 720, 5040];
  for (const [i, orders] of factorials.entries()) {
    const rise = Array.from({ length: i + 3 }, (_, k) => k);
    expect(mannKendall(rise)).toMatchObject({ tau: 1, method: 'exact' });
    expect(mannKendall(rise).pValue).toBeCloseTo(2 / orders, 12);
  }
});

test('mannKendall(values) of five values with S = 8 has the tabulated one-sided chance .042', () => {
  // Kendall's table: n 5, S 8, .042; n 4, S 4, .167; n 10, S 21, .036. From memory.
  expect(mannKendall([1, 2, 3, 5, 4]).pValue / 2).toBeCloseTo(0.042, 3);
  expect(mannKendall([1, 3, 2, 4]).pValue / 2).toBeCloseTo(0.167, 3);
  const ten = mannKendall([3, 1, 5, 2, 4, 10, 6, 9, 8, 7]);
  expect(ten.s).toBe(23);
  expect(mannKendall([5, 1, 3, 2, 4, 10, 6, 9, 8, 7]).s).toBe(21);
  expect(mannKendall([5, 1, 3, 2, 4, 10, 6, 9, 8, 7]).pValue / 2).toBeCloseTo(0.036, 3);
});

test('mannKendall(values) of a fall mirrors the rise', () => {
  const rise = mannKendall([1, 4, 2, 6, 5]);
  const fall = mannKendall([5, 6, 2, 4, 1]);
  expect(fall.s).toBe(-rise.s);
  expect(fall.pValue).toBe(rise.pValue);
});

test('mannKendall(values) of values all alike shows nothing', () => {
  expect(mannKendall([3, 3, 3, 3])).toMatchObject({ s: 0, z: 0, tau: 0, pValue: 1 });
});

test('mannKendall(values) refuses fewer than three values and what is not finite', () => {
  expect(() => mannKendall([1, 2])).toThrow(/at least three/);
  expect(() => mannKendall([1, NaN, 2])).toThrow(/finite/);
});
