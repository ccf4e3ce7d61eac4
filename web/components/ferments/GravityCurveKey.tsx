import { ChartSign } from '../frame/ChartSign.tsx';

/** What the marks of a gravity curve mean, by their shape. */
export function GravityCurveKey({
  hasBeyond,
  hasFitted,
}: {
  hasBeyond: boolean;
  hasFitted: boolean;
}) {
  return (
    <ul class="curve-key" aria-label="Marks in the chart">
      <ChartSign width={32} words="reading">
        <circle cx="16" cy="8" r="4" class="curve-point" />
      </ChartSign>
      {hasBeyond && (
        <ChartSign width={32} words="reading above the band">
          <path d="M16 2l5.5 9.5h-11Z" class="curve-beyond" />
        </ChartSign>
      )}
      {hasFitted && (
        <ChartSign width={32} words="curve fitted to the readings">
          <path d="M0 8h32" class="curve-line" />
        </ChartSign>
      )}
      <ChartSign width={32} words="middle of what is usual">
        <path d="M0 8h32" class="curve-mid" />
      </ChartSign>
      <ChartSign width={32} words="band for 19 of 20">
        <path d="M2 14L12 2M11 14L21 2M20 14L30 2" class="curve-hatch" />
        <path d="M0 1h32M0 15h32" class="curve-edge" />
      </ChartSign>
    </ul>
  );
}
