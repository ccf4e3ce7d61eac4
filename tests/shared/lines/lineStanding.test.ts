import { expect, test } from 'vitest';
import { lineSheet, lineStandings, lineSummary } from '#shared/lines/lineStanding.ts';
import type { LineMeasureKey, LineSheet } from '#shared/views/lines.ts';
import { aLine, aLineFerment } from '#tests/support/line.ts';

const steady = [33, 30, 27.2, 25.9, 26.8, 27.9, 26.5, 27.4, 26.1];
const slowing = [33, 30, 27.2, 25.9, 26.8, 27.9, 29.5, 31.2, 33.0, 34.1];

const standingOf = (...lines: Parameters<typeof lineStandings>[0]): LineSheet => {
  const sheet = lineSheet(lines[0]?.id ?? '', lines);
  if (sheet === undefined) throw new Error('There is no line.');
  return sheet;
};
const measureOf = ({ measures }: LineSheet, key: LineMeasureKey) =>
  measures.find((measure) => measure.key === key);
const weaker = (generation: number, shareDead: number) =>
  aLineFerment(generation, {
    stain: { live: Math.round(500 * (1 - shareDead)), dead: Math.round(500 * shareDead) },
  }).stain;

test('a line that varies as it did is steady, and its slow start is no decline', () => {
  const line = standingOf(aLine(steady, { aliveGeneration: 5 }));
  expect(line.state).toBe('steady');
  expect(measureOf(line, 'halfTimeHours')).toMatchObject({ state: 'steady', isDecline: false });
  expect(line.reasons.map(({ rule }) => rule)).toEqual(['no drift', 'generations']);
});

test('a line with one measure in decline drifts, and says since when and by how much', () => {
  const line = standingOf(aLine(slowing, { aliveGeneration: 5 }));
  expect(line.state).toBe('drifting');
  expect(line.reasons[0]).toMatchObject({
    rule: 'decline',
    weight: 'condition',
    text: 'Half time drifts higher since 6 generations from fresh',
    href: '/ferments/ferment-9',
  });
  expect(line.reasons[0]?.figure).toMatch(/^last 34.1 h, settled 27.0 h; moving average higher by/);
});

test('a line with two measures in decline is due, whatever its generation', () => {
  const { ferments, ...rest } = aLine(slowing, { aliveGeneration: 5 });
  const dead = [0.03, 0.04, 0.04, 0.03, 0.05, 0.04, 0.08, 0.1, 0.12, 0.13];
  const weak = ferments.map((ferment, i) => ({ ...ferment, stain: weaker(i, dead[i] ?? 0) }));
  const line = standingOf({ ...rest, ferments: weak });
  expect(line.state).toBe('due');
  expect(line.reasons[0]).toMatchObject({
    rule: 'tired',
    figure: 'Viability at pitching, Half time',
  });
});

test('a half time that falls is a change and not a decline', () => {
  const faster = slowing.map((hours, generation) => (generation < 6 ? hours : 54 - hours));
  const line = standingOf(aLine(faster, { aliveGeneration: 5 }));
  expect(measureOf(line, 'halfTimeHours')).toMatchObject({ state: 'drifting', isDecline: false });
  expect(line.state).toBe('steady');
  expect(line.reasons.map(({ rule }) => rule)).toContain('change');
});

// Limits of the story's strain: 10 generations.
test.each([
  [1, 'settling', 'Fresh yeast is commonly slow in its first generations: that is no decline'],
  [4, 'steady', '6 more generations before the house limit'],
  [7, 'steady', '3 more generations before the house limit'],
  [8, 'due soon', '2 more generations before the house limit'],
  [9, 'due soon', 'One more generation before the house limit'],
  [10, 'due', 'The house limit of generations is reached: fresh culture is due'],
])('a line alive in generation %i is %s', (aliveGeneration, state, text) => {
  const line = standingOf(aLine(steady.slice(0, 2), { aliveGeneration }));
  expect(line.state).toBe(state);
  expect(line.reasons[0]?.text).toBe(text);
});

test('condition stands before the count of generations', () => {
  const line = standingOf(aLine(slowing, { aliveGeneration: 9 }));
  expect(line.state).toBe('drifting');
  expect(line.reasons.map(({ rule }) => rule)).toEqual(['decline', 'generations']);
});

test('many petites make a line due, few do not', () => {
  const withPetites = (found: number) => {
    const { ferments, ...rest } = aLine(steady, { aliveGeneration: 5 });
    const petites = { found, examined: 200 };
    const [last, ...earlier] = ferments.toReversed();
    if (last === undefined) throw new Error('There is no ferment.');
    return standingOf({ ...rest, ferments: [...earlier, { ...last, petites }] });
  };
  expect(withPetites(19)).toMatchObject({ state: 'due' });
  expect(withPetites(19).reasons[0]).toMatchObject({ rule: 'petites', evidence: 'from memory' });
  expect(withPetites(10).state).toBe('steady');
  // 7 %, of which the exact lower limit is under 4 %: too few colonies to say that it is over 5 %.
  expect(withPetites(14).state).toBe('steady');
});

test('a line of which nothing lives is over, and still says how it went', () => {
  const line = standingOf(aLine(slowing, { aliveGeneration: null }));
  expect(line.state).toBe('ended');
  expect(line.reasons.map(({ rule }) => rule)).toEqual(['decline']);
});

test('limits come from the settled generations alone, and patterns name their source', () => {
  const measure = measureOf(standingOf(aLine(slowing)), 'halfTimeHours');
  // Mean of 27.2, 25.9, 26.8, 27.9; mean moving range (1.3 + 0.9 + 1.1) / 3 over 1.128, by hand.
  expect(measure?.limits?.centre).toBeCloseTo(26.95, 9);
  expect(measure?.limits?.sigma).toBeCloseTo(1.1 / 1.128, 9);
  expect(measure?.points.map(({ role }) => role).join(' ')).toBe(
    'fresh fresh baseline baseline baseline baseline judged judged judged judged',
  );
  expect(measure?.points[9]?.patterns).toContain('one beyond 3 sigma (Western Electric 1956)');
  expect(measure?.points.slice(0, 6).flatMap(({ patterns }) => patterns)).toEqual([]);
});

test('the average of a point is out exactly when it lies outside the limits drawn for it', () => {
  const points = measureOf(standingOf(aLine(slowing)), 'halfTimeHours')?.points ?? [];
  const averages = points.flatMap(({ average }) => (average === null ? [] : [average]));
  expect(averages).toHaveLength(4);
  for (const { value, lower, upper, isOut } of averages)
    expect(value < lower || value > upper).toBe(isOut);
  expect(averages.at(-1)?.isOut).toBe(true);
});

test('the trend leaves the first generations out', () => {
  const trend = measureOf(standingOf(aLine(slowing)), 'halfTimeHours')?.trend;
  // Of the 28 pairs of eight values two fall: 27.2 to 25.9 and to 26.8.
  expect(trend).toMatchObject({ values: 8, s: 24 });
  expect(trend?.slopePerGeneration).toBeGreaterThan(0.9);
  expect(trend?.slopeLow).toBeGreaterThan(0);
});

test('other lines of the strain lend their spread to a line with few values, those of another do not', () => {
  const short = aLine([33, 30, 27, 27, 27, 27, 29]);
  const other = aLine(steady, { id: 'other', code: 'TN-F2' });
  expect(measureOf(standingOf(short), 'halfTimeHours')?.state).toBe('too few');
  expect(measureOf(standingOf(short, other), 'halfTimeHours')?.state).toBe('steady');
  const foreign = { ...other, strain: { ...other.strain, id: 'fulmar' } };
  expect(measureOf(standingOf(short, foreign), 'halfTimeHours')?.state).toBe('too few');
});

test('a list says of each line what its page says, in short', () => {
  const lines = [aLine(slowing), aLine(steady, { id: 'other', code: 'TN-F2' })];
  const [first] = lineStandings(lines);
  const { measures: _, ...page } = standingOf(...lines);
  expect(first).toEqual(page);
  const { points, ...summary } = page;
  expect(points).toHaveLength(10);
  expect(lineSummary(page)).toEqual(summary);
});

test('limits of a share stop at 0 % and 100 %, and say so', () => {
  const { ferments, ...rest } = aLine(steady, { aliveGeneration: 5 });
  const found = [1, 3, 1, 3, 1, 3, 1, 3, 1];
  const plated = ferments.map((ferment, generation) => ({
    ...ferment,
    stain: { live: generation % 2 === 0 ? 500 : 490, dead: generation % 2 === 0 ? 0 : 10 },
    petites: { found: found[generation] ?? 1, examined: 200 },
  }));
  const line = standingOf({ ...rest, ferments: plated });
  const at = (key: LineMeasureKey) => measureOf(line, key)?.limits;
  expect(at('petitePercent')).toMatchObject({ lower: 0, isAtFloor: true, isAtCeiling: false });
  expect(at('viabilityPercent')).toMatchObject({ upper: 100, isAtCeiling: true, isAtFloor: false });
  const averages = measureOf(line, 'petitePercent')?.points.flatMap(({ average }) => average ?? []);
  expect(averages?.length).toBeGreaterThan(0);
  expect(averages?.every(({ lower }) => lower >= 0)).toBe(true);
});
