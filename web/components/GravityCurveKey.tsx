import type { ComponentChildren } from 'preact';

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
      <Entry words="reading">
        <circle cx="16" cy="8" r="4" class="curve-point" />
      </Entry>
      {hasBeyond && (
        <Entry words="reading above the band">
          <path d="M16 2l5.5 9.5h-11Z" class="curve-beyond" />
        </Entry>
      )}
      {hasFitted && (
        <Entry words="curve fitted to the readings">
          <path d="M0 8h32" class="curve-line" />
        </Entry>
      )}
      <Entry words="middle of what is usual">
        <path d="M0 8h32" class="curve-mid" />
      </Entry>
      <Entry words="band for 19 of 20">
        <path d="M2 14L12 2M11 14L21 2M20 14L30 2" class="curve-hatch" />
        <path d="M0 1h32M0 15h32" class="curve-edge" />
      </Entry>
    </ul>
  );
}

function Entry({ words, children }: { words: string; children: ComponentChildren }) {
  return (
    <li>
      <svg viewBox="0 0 32 16" aria-hidden="true" focusable="false">
        {children}
      </svg>
      {words}
    </li>
  );
}
