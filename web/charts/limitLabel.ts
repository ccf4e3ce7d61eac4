import type { PlotPlugin } from '../components/Chart.tsx';

/** Writes the names of the lines given at their left ends, each in its own colour. */
export const limitLabels = (names: readonly string[]): PlotPlugin => ({
  id: 'limitLabels',
  afterDatasetsDraw(chart) {
    const { ctx, chartArea, scales } = chart;
    ctx.save();
    ctx.font = '13px system-ui, sans-serif';
    ctx.textAlign = 'left';
    for (const { label = '', data, borderColor } of chart.data.datasets) {
      const y = scales.y?.getPixelForValue(heightOf(data.at(0))) ?? Number.NaN;
      if (!names.includes(label) || Number.isNaN(y)) continue;
      ctx.fillStyle = String(borderColor);
      ctx.textBaseline = y - chartArea.top < 20 ? 'top' : 'bottom';
      ctx.fillText(label, chartArea.left + 6, ctx.textBaseline === 'top' ? y + 4 : y - 3);
    }
    ctx.restore();
  },
});

function heightOf(point: unknown): number {
  return typeof point === 'object' && point !== null && 'y' in point ? Number(point.y) : Number.NaN;
}
