import { expect, test } from 'vitest';
import { type RunsRuleSource, runsRules } from '#shared/science/runsRules.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const chart = { centre: 0, sigma: 1 };
const signals = (values: number[], source: RunsRuleSource) =>
  runsRules(values, chart, source).map(({ index, rule }) => `${index} ${rule}`);

test('runsRules(values, Western Electric 1956) finds each of its four patterns', () => {
  const find = (values: number[]) => signals(values, 'Western Electric 1956');
  expect(find([0.5, 3.1])).toEqual(['1 one beyond 3 sigma']);
  expect(find([2.1, 0.5, 2.2])).toEqual(['2 two of three beyond 2 sigma on one side']);
  expect(find([1.1, 1.2, -0.5, 1.3, 1.4])).toEqual(['4 four of five beyond 1 sigma on one side']);
  expect(find([-0.1, -0.2, -0.3, -0.2, -0.1, -0.2, -0.3, -0.4])).toEqual([
    '7 8 in a row on one side',
  ]);
});

test('runsRules(values, Nelson 1984) finds the patterns that the older set has not', () => {
  const find = (values: number[]) => signals(values, 'Nelson 1984');
  expect(find([-1, -0.6, -0.2, 0.2, 0.5, 0.9])).toEqual(['5 six in a row rising or falling']);
  const seesaw = Array.from({ length: 14 }, (_, i) => (i % 2 === 0 ? 0.9 : -0.9));
  expect(find(seesaw)).toEqual(['13 fourteen in a row up and down in turn']);
  const hugging = [0.1, 0.2, -0.1, 0.1, 0, -0.2, -0.1, 0.1, 0.3, 0.1, -0.3, -0.2, 0.1, 0, 0.2];
  expect(find(hugging)).toEqual(['14 fifteen in a row within 1 sigma']);
  const shunning = [1.1, -1.2, -1.1, 1.3, 1.2, -1.3, 1.1, -1.2];
  expect(find(shunning)).toEqual(['7 eight in a row beyond 1 sigma on either side']);
});

test('runsRules(values) counts the two sides apart', () => {
  expect(signals([2.1, -2.1], 'Western Electric 1956')).toEqual([]);
  expect(signals([2.1, 2.5, 0], 'Western Electric 1956')).toEqual([
    '1 two of three beyond 2 sigma on one side',
  ]);
});

test('runsRules(values, Western Electric 1956) cries wolf about once in 92 values in control', () => {
  // Champ and Woodall (1987): mean run length 91.75 with all four rules; from memory.
  const random = seededRandom(33);
  const runs = 1500;
  let total = 0;
  for (let run = 0; run < runs; run++) {
    const series = Array.from({ length: 1200 }, () => random.normal());
    let from = 0;
    let first: number | undefined;
    while (first === undefined && from < 1200) {
      first = runsRules(series.slice(0, from + 100), chart, 'Western Electric 1956')[0]?.index;
      from += 100;
    }
    total += (first ?? 1200) + 1;
  }
  console.log('mean run length of the four Western Electric rules:', total / runs);
  // Standard error about 92 / sqrt(1500) = 2.4.
  expect(Math.abs(total / runs - 91.75)).toBeLessThan(7.2);
}, 60_000);

test('runsRules(values) refuses a spread that is not positive and values that are not finite', () => {
  expect(() => runsRules([1], { centre: 0, sigma: 0 }, 'Nelson 1984')).toThrow(/sigma/);
  expect(() => runsRules([NaN], chart, 'Nelson 1984')).toThrow(/finite/);
});
