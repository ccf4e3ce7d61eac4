import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

type Props = {
  /** What stands in the line that is always seen: name, verdict, last figure. */
  summary: ComponentChildren;
  /** Opened at once on any screen; others only where there is room. */
  isPressing?: boolean;
  children: ComponentChildren;
};

/** The width from which long pages lie open, as in the styles [px]. */
const roomyPx = 800;

/** A part of a long page: folded on a phone with its gist in sight, open where there is room and on paper. */
export function Fold({ summary, isPressing = false, children }: Props) {
  const [isOpenAtFirst] = useState(
    () => isPressing || matchMedia(`(min-width: ${roomyPx}px)`).matches,
  );
  return (
    <details class="fold" open={isOpenAtFirst}>
      <summary>{summary}</summary>
      {children}
    </details>
  );
}
