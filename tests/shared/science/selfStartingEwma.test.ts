import { expect, test } from 'vitest';
import { DRIFT_EWMA, selfStartingEwma } from '#shared/science/selfStartingEwma.ts';
import { seededRandom } from '../../support/seededRandom.ts';

test('selfStartingEwma(baseline, later) scores are standard normal and independent in control', () => {
  const random = seededRandom(51);
  const pairs: [number, number][] = [];
  for (let series = 0; series < 3000; series++) {
    const draw = (count: number) => Array.from({ length: count }, () => random.normal(50, 7));
    const [first, second] = selfStartingEwma(draw(4), draw(2)).points;
    pairs.push([first?.score ?? NaN, second?.score ?? NaN]);
  }
  const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;
  // Standard errors .018 for the means and the correlation, .026 for the squares.
  for (const place of [0, 1] as const) {
    expect(Math.abs(mean(pairs.map((pair) => pair[place])))).toBeLessThan(0.06);
    expect(Math.abs(mean(pairs.map((pair) => pair[place] ** 2)) - 1)).toBeLessThan(0.08);
  }
  expect(Math.abs(mean(pairs.map(([a, b]) => a * b)))).toBeLessThan(0.06);
});

test('selfStartingEwma(baseline, later) scores the first value by Student t, worked by hand', () => {
  // Baseline 1, 2, 3: mean 2, s 1, 2 degrees of freedom. t = 4.302653 is the 97.5 % point there.
  const value = 2 + 4.302652729749462 * Math.sqrt(4 / 3);
  const [point] = selfStartingEwma([1, 2, 3], [value]).points;
  expect(point?.score).toBeCloseTo(1.9599639845400538, 9);
  expect(point?.ewma).toBeCloseTo(0.2 * 1.9599639845400538, 9);
  // The first exact limit is k lambda.
  expect(point?.limit).toBeCloseTo(DRIFT_EWMA.k * 0.2, 12);
});

test('selfStartingEwma(…, known) lends the spread of other series', () => {
  const known = { squares: 10, degreesOfFreedom: 10 };
  const [point] = selfStartingEwma([5], [5 + 1.8124611228 * Math.sqrt(2)], known).points;
  // t on 10 degrees of freedom at 95 % is 1.812461.
  expect(point?.score).toBeCloseTo(1.6448536, 6);
});

test('selfStartingEwma(baseline, later) stays out after a shift and says where the run began', () => {
  const shifted = [...[0.2, -0.3, 0.1, -0.1], ...Array.from({ length: 20 }, () => 3)];
  const { points, runBegan } = selfStartingEwma([-1, 0.5, -0.4, 0.9], shifted);
  expect(points.at(-1)?.isOut).toBe(true);
  expect(runBegan).toBe(4);
});

test('selfStartingEwma(baseline, later) is not put out by one mad value', () => {
  const { points } = selfStartingEwma([-1, 0.5, -0.4, 0.9], [0.1, -0.2, 0.3, 0, -0.1, 0.2, 500]);
  expect(points.at(-1)?.score).toBe(3);
  expect(points.at(-1)?.isOut).toBe(false);
});

test('selfStartingEwma(baseline, later) refuses a baseline without spread', () => {
  expect(() => selfStartingEwma([2, 2], [3])).toThrow(/spread/);
  expect(() => selfStartingEwma([], [3])).toThrow(/spread/);
  expect(() => selfStartingEwma([1, 2], [NaN])).toThrow(/finite/);
});
