import { expect, test } from 'vitest';
import { type LineValue, lineDrift } from '#shared/science/lineDrift.ts';
import { seededRandom } from '../../support/seededRandom.ts';

type Random = ReturnType<typeof seededRandom>;

/** Hours of half attenuation: 27 h, standard deviation 1.5, the first two generations 4 h slow. */
function line(random: Random, generations: number, shiftAt: (generation: number) => number) {
  return Array.from({ length: generations }, (_, generation): LineValue => {
    const fresh = generation < 2 ? 4 : 0;
    return { generation, value: 27 + fresh + random.normal(0, 1.5) + 1.5 * shiftAt(generation) };
  });
}

const others = (random: Random, count: number) =>
  Array.from({ length: count }, () => Array.from({ length: 4 }, () => random.normal(27.5, 1.5)));

/** The generation at which a line is first called drifting, watched as it grows to 25. */
function firstCall(values: readonly LineValue[], otherLines: number[][]) {
  for (let count = 7; count <= values.length; count++) {
    if (lineDrift(values.slice(0, count), { otherLines }).state === 'drifting') return count - 1;
  }
  return undefined;
}

function calls(seed: number, otherCount: number, shiftAt: (generation: number) => number) {
  const random = seededRandom(seed);
  const found: number[] = [];
  const lines = 400;
  for (let i = 0; i < lines; i++) {
    const call = firstCall(line(random, 26, shiftAt), others(random, otherCount));
    if (call !== undefined) found.push(call);
  }
  const mean = found.reduce((sum, call) => sum + call, 0) / found.length;
  return { share: found.length / lines, meanGeneration: Math.round(10 * mean) / 10 };
}

test('lineDrift(values) calls few steady lines, all that creep, and most that step, by generation 25', () => {
  const table = [0, 3].map((otherCount) => ({
    otherLines: otherCount,
    steady: calls(60 + otherCount, otherCount, () => 0),
    stepOfTwoSdAtGeneration10: calls(70 + otherCount, otherCount, (g) => (g >= 10 ? 2 : 0)),
    quarterSdAGenerationFrom8: calls(80 + otherCount, otherCount, (g) => 0.25 * Math.max(0, g - 8)),
  }));
  console.log(
    'share of 400 lines called drifting by generation 25, and mean generation of the call',
  );
  console.log(JSON.stringify(table, undefined, 1));
  const [alone, helped] = table;
  // Twenty looks at 1 in 370 by the average, and a trend test at 0.003 over a growing list.
  expect(alone?.steady.share).toBeLessThan(0.1);
  expect(helped?.steady.share).toBeLessThan(0.1);
  // A step is partly learned as the new level: eight values of its own are all a line has before it,
  // so of such lines a good part is never called. The floors are what was measured when this was
  // written, less three standard errors of 400 lines: they guard the figures, nothing demands them.
  expect(alone?.stepOfTwoSdAtGeneration10.share).toBeGreaterThan(0.63);
  expect(helped?.stepOfTwoSdAtGeneration10.share).toBeGreaterThan(0.75);
  expect(helped?.stepOfTwoSdAtGeneration10.share).toBeGreaterThan(
    alone?.stepOfTwoSdAtGeneration10.share ?? NaN,
  );
  for (const row of table) {
    expect(row.stepOfTwoSdAtGeneration10.meanGeneration).toBeLessThan(17);
    expect(row.quarterSdAGenerationFrom8.share).toBeGreaterThan(0.97);
    // Ten generations of creeping are two and a half standard deviations.
    expect(row.quarterSdAGenerationFrom8.meanGeneration).toBeLessThan(18);
  }
}, 300_000);

const steadyValues = [27.2, 25.9, 26.8, 27.9, 26.5, 27.4, 26.1, 27.0, 26.6, 27.3];
const steady = steadyValues.map((value, i) => Object.freeze({ generation: i + 2, value }));
const slowStart = [
  { generation: 0, value: 34 },
  { generation: 1, value: 31 },
];

test('lineDrift(values) shows the slow start of fresh yeast and does not call it drift', () => {
  const found = lineDrift([...slowStart, ...steady]);
  expect(found).toMatchObject({ state: 'steady', since: undefined, direction: undefined });
  expect(found.points.map(({ role }) => role).slice(0, 7)).toEqual([
    'fresh',
    'fresh',
    'baseline',
    'baseline',
    'baseline',
    'baseline',
    'judged',
  ]);
  expect(lineDrift(steady).points.slice(4)).toEqual(found.points.slice(6));
});

test('lineDrift(values) says since when and which way a line drifts', () => {
  const slower = [30.5, 31, 31.4, 32, 31.8].map((value, i) => ({ generation: 12 + i, value }));
  const found = lineDrift([...steady, ...slower]);
  expect(found).toMatchObject({ state: 'drifting', direction: 'higher' });
  expect(Math.abs((found.since ?? NaN) - 12)).toBeLessThanOrEqual(1);
  expect(found.evidence).toMatch(/moving average higher by/);
  const faster = slower.map(({ generation, value }) => ({ generation, value: 53.6 - value }));
  expect(lineDrift([...steady, ...faster]).direction).toBe('lower');
});

test('lineDrift(values) is settling until a value comes after the settled generations', () => {
  expect(lineDrift([]).state).toBe('settling');
  expect(lineDrift(steady.slice(0, 4)).state).toBe('settling');
  expect(lineDrift(steady.slice(0, 5)).state).toBe('steady');
});

test('lineDrift(values) says when the settled values are too few or all alike', () => {
  expect(lineDrift([...steady.slice(0, 2), ...steady.slice(5)]).state).toBe('too few');
  const alike = steady.map(({ generation }) => ({ generation, value: 27 }));
  expect(lineDrift(alike).state).toBe('too few');
  expect(lineDrift(alike, { otherLines: [[26, 27, 28]] }).state).toBe('steady');
});

test('lineDrift(values) takes several ferments of one generation, in any order', () => {
  const doubled = [...steady, ...steady].reverse();
  expect(lineDrift(doubled)).toMatchObject({ state: 'steady' });
  expect(lineDrift(doubled).points).toHaveLength(20);
});

test('lineDrift(values, { settled }) moves the generations that set the limits', () => {
  const { points } = lineDrift(steady, { settled: { from: 4, to: 7 } });
  expect(
    points.filter(({ role }) => role === 'baseline').map(({ generation }) => generation),
  ).toEqual([4, 5, 6, 7]);
});

// Far more spread than the values have, so that the average calls nothing and the trend speaks alone.
const wide = { otherLines: [[20, 34, 22, 31, 27]] };
/** Three settled generations, and one ferment in each from the sixth. */
const inOrder = (ranks: readonly number[]) =>
  ranks.map((rank, i) => ({ generation: i < 3 ? 2 + i : 3 + i, value: 27 + rank / 100 }));
const upTo = (count: number) => Array.from({ length: count }, (_, rank) => rank);

test('lineDrift(values) calls a slow steady trend drift, from eight values on', () => {
  expect(lineDrift(inOrder(upTo(7)), wide).state).toBe('steady');
  expect(lineDrift(inOrder(upTo(8)), wide)).toMatchObject({
    ...{ state: 'drifting', direction: 'higher', since: 2 },
    evidence: expect.stringMatching(/^steady trend higher, Mann-Kendall tau 1\.00, chance 0\.00/),
  });
  expect(lineDrift(inOrder(upTo(8).reverse()), wide)).toMatchObject({
    ...{ state: 'drifting', direction: 'lower' },
    evidence: expect.stringContaining('lower, Mann-Kendall tau -1.00'),
  });
});

// Of the 55 pairs of eleven values 7 or 8 fall: s = 41 or 39 with variance 11 × 10 × 27 / 18 = 165, so
// z = 40 / 12.845 = 3.114 or 38 / 12.845 = 2.958, chances of 0.0018 and 0.0031 by any normal table.
test('lineDrift(values) takes a trend for drift below a chance of 0.003', () => {
  const withFirst = (rank: number) => [rank, ...upTo(11).filter((other) => other !== rank)];
  expect(lineDrift(inOrder(withFirst(7)), wide).state).toBe('drifting');
  expect(lineDrift(inOrder(withFirst(8)), wide).state).toBe('steady');
});

// A score is held within 3, so its average is 0.2 × 3 = 0.60; the first limit is 2.86 × 0.2 = 0.572.
test('lineDrift(values) calls one value far out at once, which way it lies', () => {
  const one = (value: number) => lineDrift([...steady.slice(0, 4), { generation: 6, value }]);
  expect(one(60)).toMatchObject({
    ...{ state: 'drifting', direction: 'higher', since: 6 },
    evidence: 'moving average higher by 0.60 standard deviations, limit 0.57',
  });
  expect(one(-60)).toMatchObject({ state: 'drifting', direction: 'lower', since: 6 });
});

// Mean of 27.2, 25.9, 26.8 and 27.9 by hand.
test('lineDrift(values) names the middle of the settled values, in whatever order they come', () => {
  expect(lineDrift(steady).centre).toBeCloseTo(26.95, 12);
  expect(lineDrift([]).centre).toBe(undefined);
  expect(lineDrift(slowStart).centre).toBe(undefined);
  expect(lineDrift([{ generation: 2, value: 27 }]).centre).toBe(27);
  const grown = inOrder(upTo(8));
  expect(lineDrift([...grown].reverse(), wide)).toEqual(lineDrift(grown, wide));
});

test('lineDrift(values) is ready with three settled values, the first generation that counts among them', () => {
  const settled = [26, 28, 27].map((value, i) => ({ generation: 2 + i, value }));
  const judged = { generation: 6, value: 27 };
  expect(lineDrift([...settled, judged]).state).toBe('steady');
  expect(lineDrift([...settled.slice(1), judged]).state).toBe('too few');
});

// t = (x - 27) / (s sqrt(1 + 1/3)), s² = squares over degrees of freedom of all lines; at the value that
// Student's table gives for 97.5 % the score is 1.959964.
test.each([
  // Own: squares 2 on 2; 26 and 28: 2 on 1; so s² = 4/3, and t(3) = 3.182446.
  ['a line of two', [[26, 28]], 27 + 3.182446 * Math.sqrt(4 / 3) * Math.sqrt(4 / 3)],
  ['one value, which lends nothing', [[26, 28], [40]], 31.243261],
  // A flat line lends its degrees of freedom: s² = 4/5 on 5, t(5) = 2.570582.
  [
    'a flat line too',
    [
      [26, 28],
      [25, 25, 25],
    ],
    27 + 2.570582 * Math.sqrt(4 / 5) * Math.sqrt(4 / 3),
  ],
])('lineDrift(values, { otherLines }) borrows the spread of %s', (_, otherLines, value) => {
  const settled = [26, 27, 28].map((each, i) => ({ generation: 2 + i, value: each }));
  const { points } = lineDrift([...settled, { generation: 6, value }], { otherLines });
  expect(points[3]?.ewma?.score).toBeCloseTo(1.959964, 5);
});

test('lineDrift(values) refuses a value that is not finite', () => {
  expect(() => lineDrift([...steady, { generation: 13, value: NaN }])).toThrow(/finite/);
  // Nor before there is enough to judge.
  expect(() => lineDrift([{ generation: 2, value: Infinity }])).toThrow(RangeError);
});

test('lineDrift(values) of figures all alike is too few, whatever their mean is rounded to', () => {
  for (let tenths = 1; tenths < 1000; tenths += 1) {
    const value = tenths / 10;
    // Three brews a generation, so that some of the means are not quite the figure itself.
    const values = Array.from({ length: 48 }, (_, brew) => ({
      generation: Math.floor(brew / 3),
      value,
    }));
    expect(lineDrift(values).state).toBe('too few');
  }
});
