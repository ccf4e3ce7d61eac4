import type { ComponentChildren } from 'preact';

type Props = {
  /** "Why 10.9 L" */
  title?: string;
  open?: boolean;
  children: ComponentChildren;
};

/** How a figure came about: its inputs, formula, source and evidence. */
export function Why({ title = 'Why', open = false, children }: Props) {
  return (
    <details class="why" open={open}>
      <summary>{title}</summary>
      <div class="why-body">{children}</div>
    </details>
  );
}
