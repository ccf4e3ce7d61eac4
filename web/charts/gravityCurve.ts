/** A reading of gravity against the hours since pitching. */
export type CurvePoint = { hours: number; gravitySg: number };
export type CurveTick = { at: number; value: number };
export type GravityCurve = {
  width: number;
  height: number;
  /** The plot inside its margins. */
  left: number;
  right: number;
  top: number;
  bottom: number;
  points: { x: number; y: number }[];
  hourTicks: CurveTick[];
  gravityTicks: CurveTick[];
};

const frame = { width: 360, height: 190, left: 44, right: 350, top: 10, bottom: 152 };
const fewestHours = 48;

/** Where the points and ticks of a gravity curve stand; the drawing only puts ink there. */
export function gravityCurve(points: readonly CurvePoint[]): GravityCurve {
  const lastHour = Math.max(fewestHours, ...points.map(({ hours }) => hours));
  const degrees = points.map(({ gravitySg }) => (gravitySg - 1) * 1000);
  const step = Math.max(...degrees) > 60 ? 20 : 10;
  const highest = Math.ceil((Math.max(...degrees, step) + 1) / step) * step;
  const lowest = Math.min(0, Math.floor(Math.min(...degrees, 0) / step) * step);
  const x = (hours: number) => frame.left + (hours / lastHour) * (frame.right - frame.left);
  const y = (degree: number) =>
    frame.bottom - ((degree - lowest) / (highest - lowest)) * (frame.bottom - frame.top);
  return {
    ...frame,
    points: points.map(({ hours, gravitySg }) => ({ x: x(hours), y: y((gravitySg - 1) * 1000) })),
    hourTicks: ticks(0, lastHour, hourStep(lastHour)).map((value) => ({ at: x(value), value })),
    gravityTicks: ticks(lowest, highest, step).map((value) => ({
      at: y(value),
      value: 1 + value / 1000,
    })),
  };
}

/** Whole days while there is room for them, else every so many. */
const hourStep = (lastHour: number) => 24 * Math.ceil(lastHour / (24 * 6));

function ticks(from: number, to: number, step: number): number[] {
  return Array.from({ length: Math.floor((to - from) / step) + 1 }, (_, nth) => from + nth * step);
}
