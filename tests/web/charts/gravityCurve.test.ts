import { expect, test } from 'vitest';
import { gravityCurve } from '../../../web/charts/gravityCurve.ts';

const points = [
  { hours: 0, gravitySg: 1.04 },
  { hours: 24, gravitySg: 1.03 },
  { hours: 72, gravitySg: 1.01 },
];

test('a falling gravity runs down and to the right, inside its frame', () => {
  const curve = gravityCurve(points);
  const xs = curve.points.map(({ x }) => x);
  const ys = curve.points.map(({ y }) => y);
  expect(xs).toEqual(xs.toSorted((a, b) => a - b));
  expect(ys).toEqual(ys.toSorted((a, b) => a - b));
  expect(xs[0]).toBe(curve.left);
  expect(xs.at(-1)).toBe(curve.right);
  expect(ys.every((y) => y >= curve.top && y <= curve.bottom)).toBe(true);
});

test('ticks stand at whole days and tens of degrees', () => {
  const { hourTicks, gravityTicks } = gravityCurve(points);
  expect(hourTicks.map(({ value }) => value)).toEqual([0, 24, 48, 72]);
  expect(gravityTicks.map(({ value }) => Math.round(value * 1000))).toEqual([
    1000, 1010, 1020, 1030, 1040, 1050,
  ]);
});

test('a point at a tick stands at the height of that tick', () => {
  const curve = gravityCurve(points);
  const tick = curve.gravityTicks.find(({ value }) => Math.round(value * 1000) === 1030);
  expect(curve.points[1]?.y).toBeCloseTo(tick?.at ?? Number.NaN, 9);
});

test('a strong wort keeps the ticks apart', () => {
  const { gravityTicks } = gravityCurve([{ hours: 0, gravitySg: 1.08 }]);
  expect(gravityTicks.map(({ value }) => Math.round(value * 1000))).toEqual([
    1000, 1020, 1040, 1060, 1080, 1100,
  ]);
});

test('gravities below water stay inside the frame', () => {
  const curve = gravityCurve([...points, { hours: 96, gravitySg: 0.998 }]);
  expect(curve.points.at(-1)?.y).toBeLessThanOrEqual(curve.bottom);
});
