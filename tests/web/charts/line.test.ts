import { expect, test } from 'vitest';
import { lineMeasure } from '#shared/lines/lineMeasures.ts';
import type { LineMeasurePoint, LineMeasureStanding } from '#shared/views/lines.ts';
import { generationChart } from '../../../web/charts/generationChart.ts';
import { lineFinding } from '../../../web/charts/lineFinding.ts';

const palette = { ink: 'black', paper: 'white', rule: 'grey', accent: 'green', alarm: 'red' };

const aPoint = (
  generation: number,
  value: number,
  facts: Partial<LineMeasurePoint> = {},
): LineMeasurePoint => ({
  fermentId: `ferment-${generation}`,
  generation,
  value,
  role: generation < 2 ? 'fresh' : generation < 6 ? 'baseline' : 'judged',
  average: null,
  patterns: [],
  ...facts,
});

const atNoBound = { isAtFloor: false, isAtCeiling: false };

const aStanding = (facts: Partial<LineMeasureStanding> = {}): LineMeasureStanding => ({
  key: 'viabilityPercent',
  state: 'drifting',
  isDecline: true,
  since: 6,
  direction: 'lower',
  evidence: 'moving average lower by 2.10 standard deviations, limit 0.94',
  limits: { ...{ centre: 96, sigma: 1, lower: 93, upper: 99, values: 4 }, ...atNoBound },
  points: [
    aPoint(0, 85),
    aPoint(2, 96),
    aPoint(3, 97),
    aPoint(6, 92, { average: { value: 93.9, lower: 95.1, upper: 96.9, isOut: true } }),
    aPoint(7, 95, {
      patterns: ['two of three beyond 2 sigma on one side (Western Electric 1956)'],
    }),
  ],
  last: { fermentId: 'ferment-7', value: 95 },
  trend: null,
  ...facts,
});

const viability = lineMeasure('viabilityPercent');
const chartOf = (standing: LineMeasureStanding, limit: number | null = 90) =>
  generationChart({
    standing,
    measure: viability,
    limit,
    firstGeneration: 0,
    gyleOf: new Map(),
    palette,
  });

test('a ferment is marked by what it counts for, and by a triangle where it is out', () => {
  const [ferments] = chartOf(aStanding()).data.datasets;
  expect(ferments).toMatchObject({
    pointStyle: ['crossRot', 'rect', 'rect', 'triangle', 'triangle'],
    pointRadius: [5, 5, 5, 8, 8],
  });
});

test('each line of the chart has a dash of its own, and its figure in its name', () => {
  const { datasets } = chartOf(aStanding()).data;
  const lines = datasets.slice(1).map(({ label, borderDash }) => [label, String(borderDash)]);
  expect(lines).toEqual([
    ['Moving average', ''],
    ['its lower limit', '2,3'],
    ['its upper limit', '2,3'],
    ['upper limit 99.0 %', '10,5'],
    ['lower limit 93.0 %', '10,5'],
    ['house limit 90.0 %', '2,4'],
    ['settled mean 96.0 %', '1,0'],
  ]);
});

test('a limit that the measure cannot reach is drawn at its bound, and named so', () => {
  const limits = { centre: 95.2, sigma: 1.9, lower: 89.4, upper: 100, values: 4 };
  const standing = aStanding({ limits: { ...limits, isAtFloor: false, isAtCeiling: true } });
  const { data, options } = chartOf(standing, null);
  expect(data.datasets.slice(4).map(({ label }) => label)).toEqual([
    ...['cannot be above 100 %', 'lower limit 89.4 %', 'settled mean 95.2 %'],
  ]);
  expect(options?.scales?.y?.suggestedMax).toBe(100);
  const finding = lineFinding({ standing, measure: viability, limit: null, firstGeneration: 0 });
  expect(finding).toContain('outside the limits 89.4 % to 100 %');
  expect(finding).toContain('It cannot be above 100 %.');
});

test('a chart without limits shows the ferments alone', () => {
  const { datasets } = chartOf(aStanding({ limits: null, points: [aPoint(0, 96)] }), null).data;
  expect(datasets.map(({ label }) => label)).toEqual(['Ferments']);
});

test('axes carry the name of the measure and its unit', () => {
  const { options } = chartOf(aStanding());
  expect(options?.scales?.y).toMatchObject({ title: { text: 'Viability at pitching, %' } });
});

test('the finding says since when it drifts, and how, in the brewery’s own count', () => {
  const finding = lineFinding({
    standing: aStanding(),
    measure: viability,
    limit: 90,
    firstGeneration: 1,
  });
  expect(finding).toBe(
    '5 ferments, gen 1 to 8, the last at 95.0 %.' +
      ' Drifts lower since gen 7, for the worse: moving average lower by 2.10 standard deviations, limit 0.94.' +
      ' 2 are outside the limits 93.0 % to 99.0 % of 4 settled values, or at the end of a pattern.' +
      ' 1 of 5 under the house limit of 90.0 %.',
  );
});

test('the finding of a measure with too little to judge by says so', () => {
  const only = { measure: viability, limit: 90, firstGeneration: 0 };
  const nothing = aStanding({ points: [], limits: null });
  expect(lineFinding({ ...only, standing: nothing })).toBe('Not measured yet in this line.');
  const settling = aStanding({ state: 'settling', limits: null, points: [aPoint(0, 97)] });
  expect(lineFinding({ ...only, standing: settling })).toBe(
    '1 ferment, gen 0 only, the last at 97.0 %.' +
      ' Still settling: nothing is judged before the settled generations are done.' +
      ' None is under the house limit of 90.0 %.',
  );
});
