import { expect, test } from 'vitest';
import type { LinePoint } from '#shared/views.ts';
import { generationChart } from '../../../web/charts/generationChart.ts';
import { lineFinding } from '../../../web/charts/lineFinding.ts';
import {
  generationMiddles,
  lineMeasures,
  measuredPoints,
  middleValue,
} from '../../../web/charts/lineMeasures.ts';

const palette = { ink: 'black', paper: 'white', rule: 'grey', accent: 'green', alarm: 'red' };

const aPoint = (generation: number, viabilityPercent: number | null): LinePoint => ({
  fermentId: `ferment-${generation}`,
  gyle: `G${100 + generation}`,
  beer: 'Harbour Bitter',
  pitchedAt: '2026-03-01T09:00:00Z',
  generation,
  viabilityPercent,
  halfTimeHours: null,
  apparentAttenuationPercent: null,
  cropRatio: null,
});

const measureOf = (key: string) => {
  const found = lineMeasures.find((measure) => measure.key === key);
  if (found === undefined) throw new Error(`no measure ${key}`);
  return found;
};
const viability = measureOf('viabilityPercent');
const halfTime = measureOf('halfTimeHours');
const line = [aPoint(3, 88), aPoint(0, 98), aPoint(1, 96), aPoint(1, 94), aPoint(2, null)];

test('measuredPoints(points) leaves out what was not measured, by generation', () => {
  expect(
    measuredPoints(line, viability).map(({ generation, value }) => [generation, value]),
  ).toEqual([
    [0, 98],
    [1, 96],
    [1, 94],
    [3, 88],
  ]);
});

test('the middle of a list is its median', () => {
  expect([
    middleValue([]),
    middleValue([7]),
    middleValue([9, 1, 4]),
    middleValue([4, 1, 9, 2]),
  ]).toEqual([undefined, 7, 4, 3]);
  expect(generationMiddles(measuredPoints(line, viability))).toEqual([
    { x: 0, y: 98 },
    { x: 1, y: 95 },
    { x: 3, y: 88 },
  ]);
});

test('a ferment beyond the house limit is a larger triangle', () => {
  const chart = generationChart({
    points: line,
    measure: viability,
    limit: 90,
    firstGeneration: 0,
    palette,
  });
  const [ferments, middles, limit] = chart.data.datasets;
  expect(ferments).toMatchObject({
    pointStyle: ['circle', 'circle', 'circle', 'triangle'],
    pointRadius: [5, 5, 5, 8],
  });
  expect(middles).toMatchObject({ borderDash: [8, 4] });
  expect(limit).toMatchObject({ borderDash: [2, 4], data: [{ y: 90 }, { y: 90 }] });
});

test('axes carry the name of the measure and its unit', () => {
  const chart = generationChart({
    points: line,
    measure: halfTime,
    limit: null,
    firstGeneration: 0,
    palette,
  });
  expect(chart.options?.scales?.y).toMatchObject({ title: { text: 'Half time, h' } });
  expect(chart.data.datasets).toHaveLength(2);
});

test('the finding sets the latest generation against the earlier ones and the limit', () => {
  const finding = lineFinding({ points: line, measure: viability, limit: 90, firstGeneration: 1 });
  expect(finding).toBe(
    '4 ferments, gen 1 to 4: gen 4 at 88.0 %, 8.0 % below the middle of the earlier ones (96.0 %).' +
      ' 1 of 4 under the house limit of 90.0 %.',
  );
});

test('the finding of a line with one generation or none says so', () => {
  const only = { measure: viability, limit: 90, firstGeneration: 0 };
  expect(lineFinding({ ...only, points: [] })).toBe('Not measured yet in this line.');
  expect(lineFinding({ ...only, points: [aPoint(0, 97)] })).toBe(
    '1 ferment of gen 0 only, at 97.0 %. None is under the house limit of 90.0 %.',
  );
});
