import type { LinePoint } from '#shared/views.ts';
import type { Palette, PlotConfiguration } from '../components/Chart.tsx';
import { limitLabel } from './limitLabel.ts';
import { generationMiddles, isBeyond, type LineMeasure, measuredPoints } from './lineMeasures.ts';

type GenerationChart = {
  points: readonly LinePoint[];
  measure: LineMeasure;
  limit: number | null;
  firstGeneration: number;
  palette: Palette;
};

const fewestGenerationsShown = 4;

function generationAxis(last: number, firstGeneration: number, palette: Palette) {
  return {
    type: 'linear',
    min: -0.3,
    max: Math.max(last, fewestGenerationsShown) + 0.3,
    title: { display: true, text: 'Generation', color: palette.ink },
    grid: { display: false },
    border: { color: palette.ink },
    ticks: {
      color: palette.ink,
      stepSize: 1,
      callback: (value: string | number) =>
        Number.isInteger(Number(value)) ? String(Number(value) + firstGeneration) : '',
    },
    afterBuildTicks: (axis: { ticks: { value: number }[]; max: number }) => {
      const count = Math.floor(axis.max) + 1;
      axis.ticks = Array.from({ length: count }, (_, value) => ({ value }));
    },
  } as const;
}

const valueAxis = ({ name, unit }: LineMeasure, palette: Palette) =>
  ({
    type: 'linear',
    grace: '12%',
    title: { display: true, text: `${name}, ${unit}`, color: palette.ink },
    grid: { color: palette.rule },
    border: { color: palette.ink },
    ticks: { color: palette.ink, maxTicksLimit: 6 },
  }) as const;

/**
 * One measure of a line by generation: a point for each ferment, a dashed line through the
 * middle of each generation, a dotted one for the house limit; beyond it points are triangles.
 */
export function generationChart(chart: GenerationChart): PlotConfiguration {
  const { measure, limit, palette, firstGeneration } = chart;
  const known = measuredPoints(chart.points, measure);
  const last = known.at(-1)?.generation ?? 0;
  const beyond = known.map((point) => isBeyond(point.value, measure, limit));
  const limitLine = [-0.3, Math.max(last, fewestGenerationsShown) + 0.3];
  return {
    type: 'scatter',
    plugins: limit === null ? [] : [limitLabel],
    data: {
      datasets: [
        {
          label: 'Ferments',
          data: known.map((point) => ({ x: point.generation, y: point.value })),
          pointStyle: beyond.map((is) => (is ? 'triangle' : 'circle')),
          pointRadius: beyond.map((is) => (is ? 8 : 5)),
          pointBackgroundColor: beyond.map((is) => (is ? palette.alarm : palette.paper)),
          pointBorderColor: beyond.map((is) => (is ? palette.alarm : palette.ink)),
          pointBorderWidth: 2,
        },
        {
          label: 'Middle of each generation',
          data: generationMiddles(known),
          showLine: true,
          pointRadius: 0,
          borderColor: palette.accent,
          borderWidth: 2,
          borderDash: [8, 4],
        },
        ...(limit === null
          ? []
          : [
              {
                label: `House limit ${limit} ${measure.unit}`,
                data: limitLine.map((x) => ({ x, y: limit })),
                showLine: true,
                pointRadius: 0,
                borderColor: palette.alarm,
                borderWidth: 2,
                borderDash: [2, 4],
              },
            ]),
      ],
    },
    options: {
      scales: {
        x: generationAxis(last, firstGeneration, palette),
        y: valueAxis(measure, palette),
      },
      plugins: {
        tooltip: {
          filter: (item) => item.datasetIndex === 0,
          displayColors: false,
          callbacks: {
            label: (item) =>
              `Gyle ${known[item.dataIndex]?.gyle ?? ''}: ${item.parsed.y?.toFixed(measure.decimals)} ${measure.unit}`,
          },
        },
      },
    },
  };
}
