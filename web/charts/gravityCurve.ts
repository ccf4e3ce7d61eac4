import type { BandPoint } from '#shared/views/ferments.ts';

/** A gravity against the hours since pitching; beyond when it lies above what was expected. */
export type CurveReading = { hours: number; gravitySg: number; isBeyond: boolean };
type CurveTick = { at: number; value: number };
export type GravityCurve = {
  width: number;
  height: number;
  /** The plot inside its margins. */
  left: number;
  right: number;
  top: number;
  bottom: number;
  readings: { x: number; y: number; isBeyond: boolean }[];
  /** Corners of the band's area, and its lines, as an SVG polygon or polyline takes them. */
  area: string;
  low: string;
  mid: string;
  high: string;
  fitted: string;
  hourTicks: CurveTick[];
  gravityTicks: CurveTick[];
};

const frame = { width: 380, height: 250, left: 42, right: 372, top: 8, bottom: 210 };
const fewestHours = 48;

/** Where the marks of a gravity curve stand; the drawing only puts ink there. */
export function gravityCurve(
  readings: readonly CurveReading[],
  band: readonly BandPoint[] = [],
): GravityCurve {
  const lastHour = Math.max(fewestHours, ...[...readings, ...band].map(({ hours }) => hours));
  const drawn = [
    ...readings.map(({ gravitySg }) => gravitySg),
    ...band.flatMap(({ low, high, fittedSg }) => [low, high, fittedSg ?? high]),
  ];
  const degrees = drawn.map((gravitySg) => (gravitySg - 1) * 1000);
  const step = Math.max(...degrees) > 60 ? 20 : 10;
  const highest = Math.ceil((Math.max(...degrees, step) + 1) / step) * step;
  const lowest = Math.min(0, Math.floor(Math.min(...degrees, 0) / step) * step);
  const x = (hours: number) => frame.left + (hours / lastHour) * (frame.right - frame.left);
  const y = (degree: number) =>
    frame.bottom - ((degree - lowest) / (highest - lowest)) * (frame.bottom - frame.top);
  const place = (hours: number, gravitySg: number) => ({
    x: x(hours),
    y: y((gravitySg - 1) * 1000),
  });
  const line = (gravityOf: (point: BandPoint) => number | null) =>
    band.flatMap((point) => {
      const gravitySg = gravityOf(point);
      return gravitySg === null ? [] : [corner(place(point.hours, gravitySg))];
    });
  const low = line((point) => point.low);
  const high = line((point) => point.high);
  return {
    ...frame,
    readings: readings.map(({ hours, gravitySg, isBeyond }) => ({
      ...place(hours, gravitySg),
      isBeyond,
    })),
    area: [...high, ...low.toReversed()].join(' '),
    low: low.join(' '),
    mid: line((point) => point.mid).join(' '),
    high: high.join(' '),
    fitted: line((point) => point.fittedSg).join(' '),
    hourTicks: ticks(0, lastHour, hourStep(lastHour)).map((value) => ({ at: x(value), value })),
    gravityTicks: ticks(lowest, highest, step).map((value) => ({
      at: y(value),
      value: 1 + value / 1000,
    })),
  };
}

const corner = ({ x, y }: { x: number; y: number }) => `${x.toFixed(1)},${y.toFixed(1)}`;

/** Whole days while there is room for them, else every so many. */
const hourStep = (lastHour: number) => 24 * Math.ceil(lastHour / (24 * 6));

function ticks(from: number, to: number, step: number): number[] {
  return Array.from({ length: Math.floor((to - from) / step) + 1 }, (_, nth) => from + nth * step);
}
