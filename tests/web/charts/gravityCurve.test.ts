import { expect, test } from 'vitest';
import { gravityCurve } from '../../../web/charts/gravityCurve.ts';

const reading = (hours: number, gravitySg: number) => ({ hours, gravitySg, isBeyond: false });
const readings = [reading(0, 1.04), reading(24, 1.03), reading(72, 1.01)];
const band = [0, 24, 48, 72].map((hours, i) => ({
  hours,
  low: [1.04, 1.024, 1.009, 1.008][i] ?? 1,
  mid: [1.04, 1.027, 1.012, 1.01][i] ?? 1,
  high: [1.04, 1.031, 1.015, 1.012][i] ?? 1,
  fittedSg: null,
}));
const corners = (line: string) => line.split(' ').map((corner) => corner.split(',').map(Number));

test('a falling gravity runs down and to the right, inside its frame', () => {
  const curve = gravityCurve(readings);
  const xs = curve.readings.map(({ x }) => x);
  const ys = curve.readings.map(({ y }) => y);
  expect(xs).toEqual(xs.toSorted((a, b) => a - b));
  expect(ys).toEqual(ys.toSorted((a, b) => a - b));
  expect(xs[0]).toBe(curve.left);
  expect(xs.at(-1)).toBe(curve.right);
  expect(ys.every((y) => y >= curve.top && y <= curve.bottom)).toBe(true);
});

test('ticks stand at whole days and tens of degrees', () => {
  const { hourTicks, gravityTicks } = gravityCurve(readings);
  expect(hourTicks.map(({ value }) => value)).toEqual([0, 24, 48, 72]);
  expect(gravityTicks.map(({ value }) => Math.round(value * 1000))).toEqual([
    1000, 1010, 1020, 1030, 1040, 1050,
  ]);
});

test('a point at a tick stands at the height of that tick', () => {
  const curve = gravityCurve(readings);
  const tick = curve.gravityTicks.find(({ value }) => Math.round(value * 1000) === 1030);
  expect(curve.readings[1]?.y).toBeCloseTo(tick?.at ?? Number.NaN, 9);
});

test('the band lies round its middle, and its area runs there and back', () => {
  const { low, mid, high, area } = gravityCurve(readings, band);
  const lines = [corners(high), corners(mid), corners(low)];
  for (const [place] of band.entries()) {
    const ys = lines.map((line) => line[place]?.[1] ?? Number.NaN);
    expect(ys).toEqual(ys.toSorted((a, b) => a - b));
  }
  expect(corners(area)).toHaveLength(2 * band.length);
  expect(corners(area)[0]).toEqual(corners(high)[0]);
  expect(corners(area).at(-1)).toEqual(corners(low)[0]);
});

test('a fitted curve is drawn only where there is one', () => {
  expect(gravityCurve(readings, band).fitted).toBe('');
  const fitted = band.map((point) => ({ ...point, fittedSg: point.mid }));
  const curve = gravityCurve(readings, fitted);
  expect(curve.fitted).toBe(curve.mid);
});

test('a strong wort keeps the ticks apart', () => {
  const { gravityTicks } = gravityCurve([reading(0, 1.08)]);
  expect(gravityTicks.map(({ value }) => Math.round(value * 1000))).toEqual([
    1000, 1020, 1040, 1060, 1080, 1100,
  ]);
});

test('gravities below water stay inside the frame', () => {
  const curve = gravityCurve([...readings, reading(96, 0.998)]);
  expect(curve.readings.at(-1)?.y).toBeLessThanOrEqual(curve.bottom);
});
