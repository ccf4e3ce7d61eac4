import { expect, test } from 'vitest';
import { normalCdf } from '#shared/science/normal.ts';
import { seededRandom } from './seededRandom.ts';

const count = 200_000;
const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
const draws = (seed: number) => {
  const random = seededRandom(seed);
  return Array.from({ length: count }, () => random.normal());
};

test.each([1, 3, 8, 60])('normal() of seed %i has the moments of the normal', (seed) => {
  const values = draws(seed);
  // Moments 0, 1, 0, 3; standard errors are sqrt(1, 2, 15, 96) over the root of the count.
  for (const [power, moment, variance] of [
    [1, 0, 1],
    [2, 1, 2],
    [3, 0, 15],
    [4, 3, 96],
  ] as const) {
    const found = mean(values.map((value) => value ** power));
    expect(Math.abs(found - moment)).toBeLessThan(3.5 * Math.sqrt(variance / count));
  }
});

test('normal() follows the normal distribution to its tails', () => {
  const sorted = draws(12).sort((a, b) => a - b);
  const greatest = sorted.reduce(
    (gap, value, i) => Math.max(gap, Math.abs(normalCdf(value) - (i + 0.5) / count)),
    0,
  );
  // Kolmogorov: 1.95 over the root of the count is passed once in a thousand.
  expect(greatest).toBeLessThan(1.95 / Math.sqrt(count));
  const beyondThree = sorted.filter((value) => Math.abs(value) > 3).length / count;
  expect(Math.abs(beyondThree - 0.0027)).toBeLessThan(0.0005);
});

test.each([3, 8, 33])(
  'normal() of seed %i has no memory: its moving range is 2 / sqrt(pi)',
  (seed) => {
    const values = draws(seed);
    const pairs = values.slice(1).map((value, i) => [values[i] ?? Number.NaN, value] as const);
    // Mean range of two 1.12838, standard error .0022 with the overlap; serial correlation .0022.
    expect(Math.abs(mean(pairs.map(([a, b]) => Math.abs(a - b))) - 1.12838)).toBeLessThan(0.0078);
    expect(Math.abs(mean(pairs.map(([a, b]) => a * b)))).toBeLessThan(0.0078);
  },
);

test('the first number of each seed is as random as the later ones', () => {
  const seeds = 20_000;
  const firsts = Array.from({ length: seeds }, (_, seed) => seededRandom(seed).normal());
  expect(Math.abs(mean(firsts))).toBeLessThan(3.5 / Math.sqrt(seeds));
  expect(Math.abs(mean(firsts.map((value) => value ** 2)) - 1)).toBeLessThan(
    3.5 * Math.sqrt(2 / seeds),
  );
  const neighbours = firsts.slice(1).map((value, i) => value * (firsts[i] ?? Number.NaN));
  expect(Math.abs(mean(neighbours))).toBeLessThan(3.5 / Math.sqrt(seeds));
});

test('poisson(mean) and binomial(trials, chance) have their means and variances', () => {
  const random = seededRandom(5);
  const many = 20_000;
  for (const [sample, expected, variance] of [
    [() => random.poisson(7), 7, 7],
    [() => random.poisson(900), 900, 900],
    [() => random.binomial(40, 0.2), 8, 6.4],
  ] as const) {
    const values = Array.from({ length: many }, sample);
    expect(Math.abs(mean(values) - expected)).toBeLessThan(3.5 * Math.sqrt(variance / many));
    const spread = mean(values.map((value) => (value - expected) ** 2));
    expect(Math.abs(spread / variance - 1)).toBeLessThan(0.05);
  }
});

test('seededRandom(seed) repeats itself, and uniform() stays inside 0 to 1', () => {
  const again = seededRandom(9);
  const once = seededRandom(9);
  for (let i = 0; i < 1000; i++) {
    const value = once.uniform();
    expect(again.uniform()).toBe(value);
    expect(value > 0 && value < 1).toBe(true);
  }
});
