import type { ComponentChildren } from 'preact';
import { useEffect, useRef, useState } from 'preact/hooks';
import type { RecordKind } from '#shared/entries/entry.ts';
import { mayWriteSomewhere } from '../../mayWrite.ts';

type Props = {
  /** What the button says: "Take its temperature". */
  label: string;
  title?: string;
  quiet?: boolean;
  startOpen?: boolean;
  /** Open and in sight from the start, for whoever came to the page to do this. */
  isSought?: boolean;
  /** What the form writes down; the button is not there for those who may not. */
  writes?: RecordKind;
  children: (close: () => void) => ComponentChildren;
};

/** A button that opens a form where it stands, and closes it again. */
export function Opens({ writes, ...shown }: Props) {
  return writes === undefined || mayWriteSomewhere(writes) ? <Opening {...shown} /> : null;
}

function Opening({
  label,
  title = label,
  quiet = true,
  startOpen = false,
  isSought = false,
  children,
}: Omit<Props, 'writes'>) {
  const [open, setOpen] = useState(startOpen || isSought);
  const heading = useRef<HTMLHeadingElement>(null);
  const button = useRef<HTMLButtonElement>(null);
  // A form that was sought takes the focus as one does that a tap opens.
  const wasOpen = useRef(startOpen && !isSought);
  useEffect(() => {
    if (open !== wasOpen.current) (open ? heading : button).current?.focus();
    wasOpen.current = open;
  }, [open]);
  const close = () => setOpen(false);
  if (!open)
    return (
      <button
        type="button"
        ref={button}
        class={quiet ? 'button quiet' : 'button'}
        aria-expanded={false}
        onClick={() => setOpen(true)}
      >
        {label}
      </button>
    );
  return (
    <section class="opened" aria-label={title}>
      <h3 ref={heading} tabIndex={-1}>
        {title}
      </h3>
      {children(close)}
      <p>
        <button type="button" class="link" onClick={close}>
          Close without saving
        </button>
      </p>
    </section>
  );
}
