import { type CurvePoint, gravityCurve } from '../charts/gravityCurve.ts';
import { duration, gravity } from '../format.ts';

/** Gravity against hours since pitching; the readings stand in the table below it. */
export function GravityCurve({ points }: { points: readonly CurvePoint[] }) {
  const last = points.at(-1);
  if (points.length < 2 || last === undefined) return null;
  const curve = gravityCurve(points);
  const { left, right, top, bottom } = curve;
  return (
    <figure class="curve">
      <svg viewBox={`0 0 ${curve.width} ${curve.height}`} aria-hidden="true" focusable="false">
        {curve.gravityTicks.map(({ at, value }) => (
          <g key={value}>
            <line x1={left} x2={right} y1={at} y2={at} class="curve-rule" />
            <text x={left - 6} y={at + 4} text-anchor="end">
              {gravity(value).replace(' °P', '')}
            </text>
          </g>
        ))}
        {curve.hourTicks.map(({ at, value }) => (
          <g key={value}>
            <line x1={at} x2={at} y1={bottom} y2={bottom + 5} class="curve-axis" />
            <text x={at} y={bottom + 18} text-anchor="middle">
              {value}
            </text>
          </g>
        ))}
        <line x1={left} x2={right} y1={bottom} y2={bottom} class="curve-axis" />
        <line x1={left} x2={left} y1={top} y2={bottom} class="curve-axis" />
        <text x={(left + right) / 2} y={bottom + 34} text-anchor="middle">
          hours since pitching
        </text>
        <polyline
          points={curve.points.map(({ x, y }) => `${x},${y}`).join(' ')}
          class="curve-line"
        />
        {curve.points.map(({ x, y }) => (
          <circle key={`${x} ${y}`} cx={x} cy={y} r="3.5" class="curve-point" />
        ))}
      </svg>
      <figcaption>{fallInWords(points[0] ?? last, last)}</figcaption>
    </figure>
  );
}

function fallInWords(first: CurvePoint, last: CurvePoint): string {
  return last.gravitySg < first.gravitySg
    ? `From ${gravity(first.gravitySg)} to ${gravity(last.gravitySg)} in ${duration(last.hours)}.`
    : `No fall yet, ${duration(last.hours)} after pitching.`;
}
