import type { PlotPlugin } from '../components/Chart.tsx';

/** Writes the name of the last line of a chart at its left end, in its own colour. */
export const limitLabel: PlotPlugin = {
  id: 'limitLabel',
  afterDatasetsDraw(chart) {
    const dataset = chart.data.datasets.at(-1);
    const y = chart.scales.y?.getPixelForValue(limitOf(dataset?.data.at(0)));
    if (dataset?.label === undefined || y === undefined || Number.isNaN(y)) return;
    const { ctx, chartArea } = chart;
    ctx.save();
    ctx.font = '14px system-ui, sans-serif';
    ctx.fillStyle = String(dataset.borderColor);
    ctx.textAlign = 'left';
    ctx.textBaseline = y - chartArea.top < 20 ? 'top' : 'bottom';
    ctx.fillText(dataset.label, chartArea.left + 6, ctx.textBaseline === 'top' ? y + 4 : y - 4);
    ctx.restore();
  },
};

function limitOf(point: unknown): number {
  return typeof point === 'object' && point !== null && 'y' in point ? Number(point.y) : Number.NaN;
}
