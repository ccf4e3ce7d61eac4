import { expect, test } from 'vitest';
import { ewmaChart } from '#shared/science/ewmaChart.ts';
import { seededRandom } from '../../support/seededRandom.ts';

// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.4.
const values = Object.freeze([
  52.0, 47.0, 53.0, 49.3, 50.1, 47.0, 51.0, 50.1, 51.2, 50.5, 49.6, 47.6, 49.9, 51.3, 47.8, 51.2,
  52.6, 52.4, 53.6, 52.1,
]);
const published = [
  50.6, 49.52, 50.56, 50.18, 50.16, 49.21, 49.75, 49.85, 50.26, 50.33, 50.11, 49.36, 49.52, 50.05,
  49.38, 49.92, 50.73, 51.23, 51.94, 51.99,
];
const chart = { centre: 50, sigma: 2.0539, lambda: 0.3, k: 3 } as const;

test('ewmaChart(values, steady) gives the published averages and limits of NIST', () => {
  const points = ewmaChart(values, { ...chart, limits: 'steady' });
  expect(points).toHaveLength(20);
  for (const [i, { ewma, lower, upper, side }] of points.entries()) {
    expect(ewma).toBeCloseTo(published[i] ?? NaN, 2);
    expect(upper).toBeCloseTo(52.5884, 4);
    // Printed 47.4115: the handbook cuts the last digit off.
    expect(Math.abs(lower - 47.4115)).toBeLessThan(1e-4);
    expect(side).toBe(undefined);
  }
});

test('ewmaChart(values, exact) opens the limits as the average settles', () => {
  // Computed independently from the closed form.
  const points = ewmaChart(values, { ...chart, limits: 'exact' });
  const uppers = [51.84851, 52.256394012124, 52.4314055707954];
  for (const [i, upper] of uppers.entries()) expect(points[i]?.upper).toBeCloseTo(upper, 5);
  expect(points[4]?.upper).toBeCloseTo(52.551611460074, 9);
  expect(points[19]?.upper).toBeCloseTo(52.5884309141244, 9);
});

test('ewmaChart(values, steady) has the published run lengths in control', () => {
  // Exact run lengths, R package spc: lambda .2 and k 2.86 gives 371.10; lambda .1 and k 2.7, 368.99.
  for (const [lambda, k, expected, seed] of [
    [0.2, 2.86, 371.1033, 21],
    [0.1, 2.7, 368.9937, 22],
  ] as const) {
    const random = seededRandom(seed);
    const design = { centre: 0, sigma: 1, lambda, k, limits: 'steady' } as const;
    const runs = 1000;
    let total = 0;
    for (let run = 0; run < runs; run++) {
      // Longer than 4,000 has a chance of 2 in 100,000.
      const series = Array.from({ length: 4000 }, () => random.normal());
      total += ewmaChart(series, design).findIndex(({ side }) => side !== undefined) + 1;
    }
    console.log(`mean run length of EWMA lambda ${lambda}, k ${k}:`, total / runs);
    // Standard error 370 / sqrt(1000) = 11.7.
    expect(Math.abs(total / runs - expected)).toBeLessThan(35);
  }
}, 60_000);

test('ewmaChart(values) names the side it leaves on', () => {
  const up = ewmaChart([3, 3, 3, 3], { centre: 0, sigma: 1, lambda: 0.5, k: 3, limits: 'steady' });
  expect(up.map(({ side }) => side)).toEqual([undefined, 'above', 'above', 'above']);
  const down = ewmaChart([-9], { centre: 0, sigma: 1, lambda: 0.5, k: 3, limits: 'exact' });
  expect(down[0]?.side).toBe('below');
});

test('ewmaChart(values) refuses a weight outside 0 to 1, and values that are not finite', () => {
  const ask = (change: object) => () => ewmaChart([1], { ...chart, limits: 'exact', ...change });
  expect(ask({ lambda: 0 })).toThrow(/lambda/);
  expect(ask({ lambda: 1.1 })).toThrow(/lambda/);
  expect(ask({ sigma: NaN })).toThrow(/sigma/);
  expect(() => ewmaChart([NaN], { ...chart, limits: 'exact' })).toThrow(/finite/);
});
