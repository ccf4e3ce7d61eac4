import type { LineMeasure } from '#shared/lines/lineMeasures.ts';
import type { LineMeasurePoint, LineMeasureStanding } from '#shared/views/lines.ts';
import type { Palette, PlotConfiguration } from '../components/frame/Chart.tsx';
import { limitLabels } from './limitLabel.ts';

type GenerationChart = {
  standing: LineMeasureStanding;
  measure: LineMeasure;
  /** The house limit of the measure, where the strain has one. */
  limit: number | null;
  /** What the brewery calls its fresh culture: 0 or 1. */
  firstGeneration: number;
  gyleOf: ReadonlyMap<string, string>;
  palette: Palette;
};

const fewestGenerationsShown = 4;
/** Part of the width kept free for the names of the lines. */
const nameRoom = 0.42;
/** Part of the height kept free above and below what is drawn. */
const roomBeyond = 0.12;

const endOf = (last: number) => last * (1 + nameRoom);

/** Outside the limits of the settled generations, or the end of a pattern. */
export function isOut({ value, patterns }: LineMeasurePoint, { limits }: LineMeasureStanding) {
  return patterns.length > 0 || (limits !== null && (value < limits.lower || value > limits.upper));
}

/**
 * One measure of a line by generation: a mark for each ferment by what it counts for, the limits
 * that the settled generations set, and the moving average with its own limits.
 */
export function generationChart(chart: GenerationChart): PlotConfiguration {
  const { standing, palette, firstGeneration } = chart;
  const last = Math.max(
    fewestGenerationsShown,
    ...standing.points.map(({ generation }) => generation),
  );
  const lines = levelLines(chart, last);
  return {
    type: 'scatter',
    plugins: [limitLabels(lines.map(({ label }) => label))],
    data: { datasets: [fermentMarks(chart), ...averageLines(chart), ...lines] },
    options: {
      scales: {
        x: generationAxis(last, firstGeneration, palette),
        y: valueAxis(chart),
      },
      plugins: {
        tooltip: {
          filter: (item) => item.datasetIndex === 0,
          displayColors: false,
          callbacks: { label: (item) => markLabel(chart, item.dataIndex) },
        },
      },
    },
  };
}

function fermentMarks({ standing, palette }: GenerationChart) {
  const { points } = standing;
  const out = points.map((point) => point.role !== 'fresh' && isOut(point, standing));
  const style = ({ role }: LineMeasurePoint) =>
    role === 'fresh' ? 'crossRot' : role === 'baseline' ? 'rect' : 'circle';
  return {
    label: 'Ferments',
    data: points.map(({ generation, value }) => ({ x: generation, y: value })),
    // A mark on the edge of the plot is drawn whole.
    clip: 10,
    pointStyle: points.map((point, i) => (out[i] ? 'triangle' : style(point))),
    pointRadius: out.map((is) => (is ? 8 : 5)),
    pointBackgroundColor: out.map((is) => (is ? palette.alarm : palette.paper)),
    pointBorderColor: out.map((is) => (is ? palette.alarm : palette.ink)),
    pointBorderWidth: 2,
  };
}

const line = (borderColor: string, borderDash: number[], borderWidth = 2) => ({
  showLine: true,
  pointRadius: 0,
  borderColor,
  borderWidth,
  borderDash,
});

function averageLines({ standing, palette }: GenerationChart) {
  const averages = standing.points.flatMap(({ generation, average }) =>
    average === null ? [] : [{ x: generation, ...average }],
  );
  if (averages.length === 0) return [];
  const along = (side: 'value' | 'lower' | 'upper') =>
    averages.map((average) => ({ x: average.x, y: average[side] }));
  return [
    { label: 'Moving average', data: along('value'), ...line(palette.accent, [], 3) },
    { label: 'its lower limit', data: along('lower'), ...line(palette.accent, [2, 3], 1) },
    { label: 'its upper limit', data: along('upper'), ...line(palette.accent, [2, 3], 1) },
  ];
}

function levelLines({ standing, measure, limit, palette }: GenerationChart, last: number) {
  const { limits } = standing;
  const named = (name: string, value: number) =>
    `${name} ${value.toFixed(measure.decimals)} ${measure.unit}`;
  const level = (label: string, y: number, borderColor: string, borderDash: number[]) => ({
    label,
    data: [-0.3, endOf(last)].map((x) => ({ x, y })),
    ...line(borderColor, borderDash),
  });
  const house =
    limit === null ? [] : [level(named('house limit', limit), limit, palette.alarm, [2, 4])];
  if (limits === null) return house;
  const { unit } = measure;
  const upper = limits.isAtCeiling
    ? `cannot be above ${limits.upper} ${unit}`
    : named('upper limit', limits.upper);
  const lower = limits.isAtFloor
    ? `cannot be below ${limits.lower} ${unit}`
    : named('lower limit', limits.lower);
  return [
    level(upper, limits.upper, palette.ink, [10, 5]),
    level(lower, limits.lower, palette.ink, [10, 5]),
    ...house,
    level(named('settled mean', limits.centre), limits.centre, palette.ink, [1, 0]),
  ];
}

function markLabel({ standing, measure, gyleOf }: GenerationChart, place: number): string {
  const point = standing.points[place];
  if (point === undefined) return '';
  const gyle = gyleOf.get(point.fermentId) ?? '';
  return [
    `Gyle ${gyle}: ${point.value.toFixed(measure.decimals)} ${measure.unit}`,
    ...point.patterns,
  ].join('; ');
}

function generationAxis(last: number, firstGeneration: number, palette: Palette) {
  return {
    type: 'linear',
    min: -0.3,
    max: endOf(last),
    title: { display: true, text: 'Generation', color: palette.ink },
    grid: { display: false },
    border: { color: palette.ink },
    ticks: {
      color: palette.ink,
      stepSize: 1,
      callback: (value: string | number) =>
        Number.isInteger(Number(value)) ? String(Number(value) + firstGeneration) : '',
    },
    afterBuildTicks: (axis: { ticks: { value: number }[] }) => {
      axis.ticks = Array.from({ length: last + 1 }, (_, value) => ({ value }));
    },
  } as const;
}

/** Room is left beyond what is drawn, but no further than the measure can go. */
function valueAxis({ standing, measure, limit, palette }: GenerationChart) {
  const { limits, points } = standing;
  const drawn = [
    ...points.flatMap(({ value, average }) =>
      average === null ? [value] : [value, average.lower, average.upper],
    ),
    ...(limits === null ? [] : [limits.lower, limits.upper]),
    ...(limit === null ? [] : [limit]),
  ];
  const [least, most] = [Math.min(...drawn), Math.max(...drawn)];
  const room = roomBeyond * (most - least);
  const { floor = Number.NEGATIVE_INFINITY, ceiling = Number.POSITIVE_INFINITY } = measure.bounds;
  return {
    type: 'linear',
    suggestedMin: Math.max(floor, least - room),
    suggestedMax: Math.min(ceiling, most + room),
    title: { display: true, text: `${measure.name}, ${measure.unit}`, color: palette.ink },
    grid: { color: palette.rule },
    border: { color: palette.ink },
    ticks: { color: palette.ink, maxTicksLimit: 6 },
  } as const;
}
