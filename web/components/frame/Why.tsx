import type { ComponentChildren } from 'preact';

type Props = {
  /** "Why 10.9 L" */
  title?: string;
  open?: boolean;
  /** Sums by the dozen, which would fill pages: on paper only those that someone opened. */
  isLong?: boolean;
  children: ComponentChildren;
};

/** How a figure came about: its inputs, formula, source and evidence. */
export function Why({ title = 'Why', open = false, isLong = false, children }: Props) {
  return (
    <details class={isLong ? 'why folded-on-paper' : 'why'} open={open}>
      <summary>{title}</summary>
      <div class="why-body">{children}</div>
    </details>
  );
}
