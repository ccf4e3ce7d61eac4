import { signal } from '@preact/signals';

type Said = { text: string; warnings: readonly string[]; link?: { href: string; label: string } };

const said = signal<Said | null>(null);

/** Says what was recorded, on this page or on the one it leads to. */
export function announce(
  text: string,
  { warnings = [], link }: { warnings?: readonly string[]; link?: Said['link'] } = {},
): void {
  said.value = { text, warnings, ...(link && { link }) };
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
          {notice.warnings.map((warning) => (
            <p key={warning}>{warning}</p>
          ))}
          <button type="button" class="link" onClick={() => (said.value = null)}>
            Close this note
          </button>
        </div>
      )}
    </div>
  );
}
