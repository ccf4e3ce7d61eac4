import { useSignalEffect } from '@preact/signals';
import {
  type ChartConfiguration,
  Chart as Drawing,
  LinearScale,
  LineElement,
  type Plugin,
  PointElement,
  ScatterController,
  Tooltip,
} from 'chart.js';

import { useEffect, useRef } from 'preact/hooks';
import { appearance } from '../../settings.ts';

Drawing.defaults.font.size = 14;
Drawing.defaults.font.family = 'system-ui, sans-serif';
Drawing.register(LinearScale, LineElement, PointElement, ScatterController, Tooltip);

export type Palette = { ink: string; paper: string; rule: string; accent: string; alarm: string };
export type PlotConfiguration = ChartConfiguration<'scatter'>;
export type PlotPlugin = Plugin<'scatter'>;
type Plot = (palette: Palette) => PlotConfiguration;

const printed: Palette = {
  ink: '#000000',
  paper: '#ffffff',
  rule: '#bbbbbb',
  accent: '#333333',
  alarm: '#8a1f11',
};
const printedSize = { width: 640, height: 280 };

/** Tokens as plain colours; only a computed colour tells which side of light-dark() holds. */
function paletteOf(canvas: HTMLCanvasElement): Palette {
  const colourOf = (token: string) => {
    canvas.style.color = `var(--${token})`;
    return getComputedStyle(canvas).color;
  };
  return {
    ink: colourOf('ink'),
    paper: colourOf('ground'),
    rule: colourOf('hair'),
    accent: colourOf('accent'),
    alarm: colourOf('stop'),
  };
}

function paint(drawing: Drawing<'scatter'>, plot: Plot, palette: Palette, responsive = true) {
  const { data, options } = plot(palette);
  drawing.data = data;
  drawing.options = { ...options, ...still, responsive };
  drawing.update('none');
}

const still = { responsive: true, maintainAspectRatio: false, animation: false } as const;

function usePrinting(drawing: { current: Drawing<'scatter'> | null }, plot: { current: Plot }) {
  useEffect(() => {
    const before = () => {
      if (drawing.current === null) return;
      drawing.current.resize(printedSize.width, printedSize.height);
      // Whoever listens for the width of the page would clear it once more, and draw too late.
      paint(drawing.current, plot.current, printed, false);
    };
    const after = () => {
      if (drawing.current === null) return;
      paint(drawing.current, plot.current, paletteOf(drawing.current.canvas));
      drawing.current.resize();
    };
    addEventListener('beforeprint', before);
    addEventListener('afterprint', after);
    return () => {
      removeEventListener('beforeprint', before);
      removeEventListener('afterprint', after);
    };
  }, [drawing, plot]);
}

/** Redraws when the device turns from day to night or a person chooses so. */
function useAppearance(repaint: () => void) {
  useSignalEffect(() => {
    if (appearance.value.length > 0) repaint();
  });
  useEffect(() => {
    const night = matchMedia('(prefers-color-scheme: dark)');
    night.addEventListener('change', repaint);
    return () => night.removeEventListener('change', repaint);
  });
}

/** A chart on a canvas; what it shows in words stands in the caption of the figure around it. */
export function Chart({ plot, labelledBy }: { plot: Plot; labelledBy: string }) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const drawing = useRef<Drawing<'scatter'> | null>(null);
  const latest = useRef(plot);
  latest.current = plot;
  const repaint = () => {
    if (drawing.current !== null && canvas.current !== null)
      paint(drawing.current, latest.current, paletteOf(canvas.current));
  };
  useEffect(() => {
    if (canvas.current === null) return;
    const configuration = latest.current(paletteOf(canvas.current));
    const options = { ...configuration.options, ...still };
    drawing.current = new Drawing(canvas.current, { ...configuration, options });
    return () => {
      drawing.current?.destroy();
      drawing.current = null;
    };
  }, []);
  useEffect(repaint, [plot]);
  useAppearance(repaint);
  usePrinting(drawing, latest);
  return (
    <div class="plot">
      <canvas ref={canvas} role="img" aria-labelledby={labelledBy} />
    </div>
  );
}
