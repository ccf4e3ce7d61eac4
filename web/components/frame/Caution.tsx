import type { ComponentChildren } from 'preact';

/** A danger of the work, said where the work is; the site's own rules always come first. */
export function Caution({ title, children }: { title: string; children: ComponentChildren }) {
  return (
    <aside class="caution" aria-label={`Caution: ${title}`}>
      <p class="caution-title">
        <span aria-hidden="true">⚠︎ </span>
        {title}
      </p>
      <div>{children}</div>
      <p class="caution-foot">Follow your own site’s rules, and the label and safety sheet.</p>
    </aside>
  );
}
