import type { ComponentChildren } from 'preact';

/** What the marks and lines in the charts mean, by their shape. */
export function LineChartKey() {
  return (
    <ul class="chart-key" aria-label="Marks in the charts">
      <Sign name="a first generation: fresh yeast, does not count">
        <path d="M9 3l10 10M19 3L9 13" class="key-point" />
      </Sign>
      <Sign name="a settled ferment: sets the limits">
        <rect x="9" y="3" width="10" height="10" class="key-point" />
      </Sign>
      <Sign name="a later ferment: judged by them">
        <circle cx="14" cy="8" r="5" class="key-point" />
      </Sign>
      <Sign name="outside the limits, or the end of a pattern">
        <path d="M14 1l8 14H6Z" class="key-beyond" />
      </Sign>
      <Sign name="settled mean">
        <path d="M0 8h28" class="key-mean" />
      </Sign>
      <Sign name="limits of the settled ferments">
        <path d="M0 8h28" class="key-control" />
      </Sign>
      <Sign name="moving average">
        <path d="M0 8h28" class="key-average" />
      </Sign>
      <Sign name="its limits">
        <path d="M0 8h28" class="key-average-limit" />
      </Sign>
      <Sign name="house limit">
        <path d="M0 8h28" class="key-limit" />
      </Sign>
    </ul>
  );
}

function Sign({ name, children }: { name: string; children: ComponentChildren }) {
  return (
    <li>
      <svg viewBox="0 0 28 16" aria-hidden="true">
        {children}
      </svg>
      {name}
    </li>
  );
}
