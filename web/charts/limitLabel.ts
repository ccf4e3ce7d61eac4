import type { PlotPlugin } from '../components/frame/Chart.tsx';

const lineHeight = 15;

/** Writes the names of the lines given at their right ends; of two that would touch, the first. */
export const limitLabels = (names: readonly string[]): PlotPlugin => ({
  id: 'limitLabels',
  afterDatasetsDraw(chart) {
    const { ctx, chartArea, scales, data } = chart;
    const written: number[] = [];
    ctx.save();
    ctx.font = '13px system-ui, sans-serif';
    ctx.textAlign = 'right';
    for (const name of names) {
      const line = data.datasets.find(({ label }) => label === name);
      const y = scales.y?.getPixelForValue(heightOf(line?.data.at(0))) ?? Number.NaN;
      if (Number.isNaN(y) || written.some((other) => Math.abs(other - y) < lineHeight)) continue;
      written.push(y);
      ctx.fillStyle = String(line?.borderColor);
      ctx.textBaseline = y - chartArea.top < lineHeight ? 'top' : 'bottom';
      ctx.fillText(name, chartArea.right - 4, ctx.textBaseline === 'top' ? y + 3 : y - 3);
    }
    ctx.restore();
  },
});

function heightOf(point: unknown): number {
  return typeof point === 'object' && point !== null && 'y' in point ? Number(point.y) : Number.NaN;
}
