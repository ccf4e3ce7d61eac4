import { useEffect, useRef, useState } from 'preact/hooks';
import { isLoopback } from '../labels/labelAddress.ts';

type Props = { label: string; text: string };

/** Something shown this once, to be copied now; it takes the focus, so that nobody looks past it. */
export function Secret({ label, text }: Props) {
  const box = useRef<HTMLDivElement>(null);
  const [copied, setCopied] = useState('');
  useEffect(() => {
    // The form that asked for it closes in the same turn, and gives the focus to its button first.
    queueMicrotask(() => box.current?.focus());
  }, [text]);
  return (
    <div class="secret" role="status" ref={box} tabIndex={-1}>
      <p>
        <strong>{label}</strong>, shown this once: copy it now.
      </p>
      <p>
        <code>{text}</code>
      </p>
      {isLoopback(text) && (
        <p class="warning">
          This address only works on this computer: on another device put the address by which it
          reaches Barmbook in place of {new URL(text).host}.
        </p>
      )}
      {navigator.clipboard !== undefined && (
        <p>
          <button
            type="button"
            class="button quiet"
            onClick={() => void navigator.clipboard.writeText(text).then(() => setCopied(text))}
          >
            {copied === text ? 'Copied' : 'Copy'}
          </button>
        </p>
      )}
    </div>
  );
}
