import { expect, test } from 'vitest';
import { trend } from '#shared/science/trend.ts';
import nile from '../../reference/nile.json' with { type: 'json' };
import sulfate from '../../reference/sulfateTrend.json' with { type: 'json' };
import { relativeError } from '../../support/relativeError.ts';

const points = sulfate.t.map((t, i) => Object.freeze({ t, y: sulfate.y[i] ?? NaN }));

test('trend(points) agrees with the USEPA sulfate example', () => {
  const found = trend(points);
  const { expected, tolerance } = sulfate;
  expect(points).toHaveLength(23);
  expect(found.s).toBe(expected.s);
  expect(found.variance).toBe(expected.variance);
  expect(relativeError(found.z, expected.z)).toBeLessThan(tolerance);
  expect(relativeError(found.pValue, expected.pValue)).toBeLessThan(tolerance);
  expect(found.tau).toBeCloseTo(expected.tau, 7);
  expect(found.slope).toBeCloseTo(expected.slope, 6);
  expect(found.intercept).toBeCloseTo(expected.intercept, 6);
  expect(relativeError(found.slopeLow, expected.slopeLow)).toBeLessThan(tolerance);
  expect(relativeError(found.slopeHigh, expected.slopeHigh)).toBeLessThan(tolerance);
});

test('trend(points) agrees with R on the Nile', () => {
  expect(nile.values).toHaveLength(100);
  const found = trend(nile.values.map((y, i) => ({ t: 1871 + i, y })));
  expect(found.s).toBe(nile.expected.s);
  expect(relativeError(found.variance, nile.expected.variance)).toBeLessThan(nile.tolerance);
  expect(found.slope).toBeCloseTo(nile.expected.slope, 12);
  expect(relativeError(found.pValue, nile.expected.pValue)).toBeLessThan(nile.tolerance);
});

test('trend(points) takes the mean of the two middle slopes of an even number', () => {
  // By hand: slopes 1, 1.5, 0.8333, 2, 0.75, -0.5; the middle two are 0.8333 and 1.
  const found = trend([0, 1, 3, 2.5].map((y, t) => ({ t, y })));
  expect(found.slope).toBeCloseTo((5 / 6 + 1) / 2, 12);
});

test('trend(points) does not depend on the order of the points, nor change them', () => {
  const shuffled = Object.freeze([...points].reverse());
  expect(trend(shuffled)).toEqual(trend(points));
});

test('trend(points) moves little when one value goes wild', () => {
  const line = Array.from({ length: 11 }, (_, t) => ({ t, y: 2 * t }));
  const wild = line.map((point) => (point.t === 10 ? { t: 10, y: 1000 } : point));
  expect(trend(wild).slope).toBeCloseTo(2, 12);
});

test('trend(points, confidence) widens with confidence, to the extreme slopes when points are few', () => {
  const wide = trend(points, 0.99);
  const narrow = trend(points, 0.8);
  expect(wide.slopeHigh - wide.slopeLow).toBeGreaterThan(narrow.slopeHigh - narrow.slopeLow);
  const three = trend([0, 1, 5].map((y, t) => ({ t, y })));
  expect([three.slopeLow, three.slopeHigh]).toEqual([1, 4]);
});

test('trend(points) refuses equal times, too few points and a confidence of one', () => {
  const two = [0, 0, 1].map((t) => ({ t, y: t }));
  expect(() => trend(two)).toThrow(/times must differ/);
  expect(() => trend(two.slice(1))).toThrow(/at least three/);
  expect(() => trend(points, 1)).toThrow(/confidence/);
});
