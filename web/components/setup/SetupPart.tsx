import type { ComponentChildren } from 'preact';
import { useEffect, useRef } from 'preact/hooks';
import { useLocation } from 'preact-iso/router';

type Props = {
  /** What an address names it by: `/setup#strains`. */
  id: string;
  title: string;
  /** How it stands, in a few words, in sight while it is folded. */
  gist: ComponentChildren;
  /** Opens by itself as soon as this holds. */
  isPressing?: boolean;
  /** False while what it holds is still being fetched, and so its place on the page not final. */
  isReady?: boolean;
  children: ComponentChildren;
};

/** A part of Setup: one line of the page until it is opened, here or by an address that names it. */
export function SetupPart({ id, title, gist, isPressing, isReady = true, children }: Props) {
  const part = useRef<HTMLDetailsElement>(null);
  const { url } = useLocation();
  useEffect(() => {
    if (isPressing && part.current) part.current.open = true;
  }, [isPressing]);
  useEffect(() => {
    const openIfNamed = () => {
      if (part.current === null || location.hash !== `#${id}`) return;
      part.current.open = true;
      part.current.scrollIntoView();
      part.current.querySelector('summary')?.focus();
    };
    openIfNamed();
    addEventListener('hashchange', openIfNamed);
    return () => removeEventListener('hashchange', openIfNamed);
  }, [id, url, isReady]);
  return (
    <details
      id={id}
      ref={part}
      class="fold setup-part"
      onToggle={({ currentTarget }) => {
        // Closed by hand, it can be named again.
        if (!currentTarget.open && location.hash === `#${id}`)
          history.replaceState(history.state, '', location.pathname + location.search);
      }}
    >
      <summary>
        <h2>{title}</h2>
        <span class="setup-gist">{gist}</span>
      </summary>
      {children}
    </details>
  );
}

/** A part that has a page of its own. */
export function SetupLink({ href, title, gist }: { href: string; title: string; gist: string }) {
  return (
    <div class="setup-part">
      <h2>
        <a href={href}>{title}</a>
      </h2>
      <span class="setup-gist">{gist}</span>
    </div>
  );
}

/** The first names of a list and how many more there are: "FV 1, FV 2 and 4 more". */
export function namesInShort(records: readonly { name: string }[], none: string): string {
  const names = records.map(({ name }) => name);
  if (names.length === 0) return none;
  const [last] = names.slice(-1);
  if (names.length === 1) return String(last);
  if (names.length <= 4) return `${names.slice(0, -1).join(', ')} and ${last}`;
  return `${names.slice(0, 3).join(', ')} and ${names.length - 3} more`;
}
