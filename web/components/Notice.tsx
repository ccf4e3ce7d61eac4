import { signal } from '@preact/signals';

type Said = {
  text: string;
  warnings: readonly string[];
  link?: { href: string; label: string };
  /** Kept on this device, and not yet with the server. */
  waits?: boolean;
};

const said = signal<Said | null>(null);

/** Says what was recorded, on this page or on the one it leads to. */
export function announce(
  text: string,
  { warnings = [], link }: { warnings?: readonly string[]; link?: Said['link'] } = {},
): void {
  said.value = { text, warnings, ...(link && { link }) };
}

/** What was saved is not sent yet; the page that saved it need not know. */
export function sayItWaits(): void {
  said.value = { ...(said.value ?? { text: 'Written down.', warnings: [] }), waits: true };
}

export function clearNotice(): void {
  said.value = null;
}

export function Notice() {
  const notice = said.value;
  return (
    <div role="status" class="notice-place">
      {notice && (
        <div class="notice">
          <p>
            <strong>{notice.text}</strong>{' '}
            {notice.link && <a href={notice.link.href}>{notice.link.label}</a>}
          </p>
          {notice.waits && (
            <p>
              Kept on this device; it is sent by itself as soon as the server can be reached.{' '}
              <a href="/outbox">What waits</a>
            </p>
          )}
          {notice.warnings.map((warning) => (
            <p key={warning}>{warning}</p>
          ))}
          <button type="button" class="link" onClick={clearNotice}>
            Close this note
          </button>
        </div>
      )}
    </div>
  );
}
