import { ChartSign } from '../frame/ChartSign.tsx';

/** What the marks and lines in the charts mean, by their shape. */
export function LineChartKey() {
  return (
    <ul class="chart-key" aria-label="Marks in the charts">
      <ChartSign width={28} words="a first generation: fresh yeast, does not count">
        <path d="M9 3l10 10M19 3L9 13" class="key-point" />
      </ChartSign>
      <ChartSign width={28} words="a settled ferment: sets the limits">
        <rect x="9" y="3" width="10" height="10" class="key-point" />
      </ChartSign>
      <ChartSign width={28} words="a later ferment: judged by them">
        <circle cx="14" cy="8" r="5" class="key-point" />
      </ChartSign>
      <ChartSign width={28} words="outside the limits, or the end of a pattern">
        <path d="M14 1l8 14H6Z" class="key-beyond" />
      </ChartSign>
      <ChartSign width={28} words="settled mean">
        <path d="M0 8h28" class="key-mean" />
      </ChartSign>
      <ChartSign width={28} words="limits of the settled ferments">
        <path d="M0 8h28" class="key-control" />
      </ChartSign>
      <ChartSign width={28} words="moving average">
        <path d="M0 8h28" class="key-average" />
      </ChartSign>
      <ChartSign width={28} words="its limits">
        <path d="M0 8h28" class="key-average-limit" />
      </ChartSign>
      <ChartSign width={28} words="house limit">
        <path d="M0 8h28" class="key-limit" />
      </ChartSign>
    </ul>
  );
}
