import { expect, test } from 'vitest';
import { individualsChart } from '#shared/science/controlChart.ts';
import { seededRandom } from '../../support/seededRandom.ts';

// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2: flow rate of ten batches.
const flowRate = Object.freeze([49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1]);

test('individualsChart(values) gives the published limits of the NIST flow rate', () => {
  const chart = individualsChart(flowRate);
  expect(chart.centre).toBeCloseTo(50.81, 10);
  expect(chart.meanMovingRange).toBeCloseTo(1.8778, 4);
  expect(chart.upper).toBeCloseTo(55.8041, 4);
  expect(chart.lower).toBeCloseTo(45.8159, 4);
  expect(chart.movingRangeUpper).toBeCloseTo(6.1347, 4);
  expect(chart.movingRanges).toHaveLength(9);
});

test('individualsChart(values, baseline) takes its limits from the baseline alone', () => {
  const drifted = [...flowRate, 70, 80, 90];
  const chart = individualsChart(drifted, [0, 1, 2, 3, 4, 5, 6, 7, 8, 9]);
  expect(chart.upper).toBeCloseTo(55.8041, 4);
  expect(chart).toMatchObject({ baselineCount: 10 });
  expect(chart.movingRanges).toHaveLength(12);
});

test('individualsChart(values, baseline) takes no range across a gap in the baseline', () => {
  // Ranges 1 and 2 count, the 96 between the second and the fourth value does not.
  const chart = individualsChart([1, 2, 50, 98, 100], [0, 1, 3, 4]);
  expect(chart.meanMovingRange).toBe(1.5);
});

test('individualsChart(values) has a mean run length near 370 once its limits are right', () => {
  // Published run length of 3-sigma limits: 370.398.
  const random = seededRandom(3);
  // Mean 0 and every range 1.128: the baseline of a process with sigma 1.
  const { lower, upper } = individualsChart([0.564, -0.564, 0.564, -0.564]);
  let total = 0;
  const runs = 4000;
  for (let run = 0; run < runs; run++) {
    let length = 1;
    for (let x = random.normal(); x >= lower && x <= upper; x = random.normal()) length++;
    total += length;
  }
  console.log('mean run length of 3-sigma limits in control:', total / runs);
  // Standard error 370 / sqrt(4000) = 5.9.
  expect(Math.abs(total / runs - 370.398)).toBeLessThan(18);
});

test('individualsChart(values) estimates sigma without bias', () => {
  const random = seededRandom(8);
  const values = Array.from({ length: 20_000 }, () => random.normal(5, 2));
  // Standard error of the mean moving range over 1.128: 2 sqrt(0.826 / 20 000) = 0.0129.
  expect(Math.abs(individualsChart(values).sigma - 2)).toBeLessThan(3 * 0.0129);
});

test('individualsChart(values) refuses too few values and values that are not finite', () => {
  expect(() => individualsChart([1])).toThrow(/at least two/);
  expect(() => individualsChart([1, 2, 3], [1])).toThrow(/at least two/);
  expect(() => individualsChart([1, NaN])).toThrow(/finite/);
  expect(() => individualsChart([1, 2], [0, 5])).toThrow(RangeError);
});
