import type { ComponentChildren } from 'preact';

type Props = { words: string; width: number; children: ComponentChildren };

/** One mark of a chart, drawn as it stands there, and what it means. */
export function ChartSign({ words, width, children }: Props) {
  return (
    <li>
      <svg viewBox={`0 0 ${width} 16`} aria-hidden="true" focusable="false">
        {children}
      </svg>
      {words}
    </li>
  );
}
