import type { BandPoint } from '#shared/views/ferments.ts';
import {
  type GravityCurve as Curve,
  type CurveReading,
  gravityCurve,
} from '../../charts/gravityCurve.ts';
import { gravity } from '../../format.ts';
import { GravityCurveKey } from './GravityCurveKey.tsx';

type Props = {
  readings: readonly CurveReading[];
  band: readonly BandPoint[];
  /** What the chart shows, in words. */
  finding: string;
};

/** Gravity against hours since pitching, on the band expected; its figures stand in the table below it. */
export function GravityCurve({ readings, band, finding }: Props) {
  if (band.length === 0) return null;
  const curve = gravityCurve(readings, band);
  return (
    <figure class="curve">
      <GravityCurveKey
        hasBeyond={readings.some(({ isBeyond }) => isBeyond)}
        hasFitted={curve.fitted !== ''}
      />
      <svg viewBox={`0 0 ${curve.width} ${curve.height}`} aria-hidden="true" focusable="false">
        <defs>
          <pattern id="band-hatch" width="6" height="6" patternUnits="userSpaceOnUse">
            <path d="M-1 7L7 -1" class="curve-hatch" />
          </pattern>
        </defs>
        <Axes curve={curve} />
        <polygon points={curve.area} fill="url(#band-hatch)" />
        <polyline points={curve.high} class="curve-edge" />
        <polyline points={curve.low} class="curve-edge" />
        <polyline points={curve.mid} class="curve-mid" />
        {curve.fitted !== '' && <polyline points={curve.fitted} class="curve-line" />}
        {curve.readings.map(({ x, y, isBeyond }) => (
          <Mark key={`${x} ${y}`} x={x} y={y} isBeyond={isBeyond} />
        ))}
      </svg>
      <figcaption>{finding}</figcaption>
    </figure>
  );
}

function Mark({ x, y, isBeyond }: { x: number; y: number; isBeyond: boolean }) {
  return isBeyond ? (
    <path d={`M${x} ${y - 6}l5.5 9.5h-11Z`} class="curve-beyond" />
  ) : (
    <circle cx={x} cy={y} r="4" class="curve-point" />
  );
}

function Axes({ curve }: { curve: Curve }) {
  const { left, right, top, bottom } = curve;
  return (
    <>
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
      <text x={(left + right) / 2} y={bottom + 35} text-anchor="middle">
        hours since pitching
      </text>
    </>
  );
}
