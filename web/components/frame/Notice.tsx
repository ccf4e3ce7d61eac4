import { signal } from '@preact/signals';
import { useEffect, useRef, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso/router';
import { waiting } from '../../outbox/queue.ts';
import { canUndo, type Undoable, undo } from '../form/undoing.ts';

type Said = {
  text: string;
  warnings: readonly string[];
  link?: { href: string; label: string };
  /** Kept on this device, and not yet with the server. */
  waits?: boolean;
  undoable?: Undoable;
  /** The page it was first shown on; on leaving that it goes. */
  on?: string;
};

const said = signal<Said | null>(null);

/** Says what was recorded, on this page or on the one it leads to. */
export function announce(
  text: string,
  { warnings = [], link }: { warnings?: readonly string[]; link?: Said['link'] } = {},
): void {
  said.value = { text, warnings, ...(link && { link }) };
}

const writtenDown = { text: 'Written down.', warnings: [] };

/** What was saved is not sent yet; the page that saved it need not know. */
export function sayItWaits(): void {
  said.value = { ...(said.value ?? writtenDown), waits: true };
}

/** Leads on from what was just saved; the form that saved it need not know where. */
export function sayWhatIsNext(link: NonNullable<Said['link']>): void {
  if (said.value !== null) said.value = { ...said.value, link };
}

/** Offers to take back what was just saved, to those who may; the page need not know. */
export function offerUndo(undoable: Undoable): void {
  if (undoable.entries.length > 0 && canUndo(undoable))
    said.value = { ...(said.value ?? writtenDown), undoable };
}

export function clearNotice(): void {
  said.value = null;
}

function close(event: { currentTarget: Element }): void {
  // The button goes with its note: the page takes the focus, where it stands.
  event.currentTarget.closest('main')?.focus({ preventScroll: true });
  clearNotice();
}

export function Notice() {
  const { path } = useLocation();
  const notice = said.value;
  useEffect(() => {
    if (notice === null) return;
    if (notice.on === undefined) said.value = { ...notice, on: path };
    else if (notice.on !== path) clearNotice();
  }, [path, notice]);
  return (
    <div role="status" class="notice-place">
      {notice && (
        <div class="notice">
          <p>
            <strong>{notice.text}</strong>{' '}
            {notice.link && <a href={notice.link.href}>{notice.link.label}</a>}
          </p>
          {notice.waits && waiting.value.length > 0 && (
            <p>
              Kept on this device; it is sent by itself as soon as the server can be reached.{' '}
              <a href="/outbox">What waits</a>
            </p>
          )}
          {notice.warnings.map((warning) => (
            <p key={warning}>{warning}</p>
          ))}
          <p class="notice-buttons">
            {notice.undoable !== undefined && canUndo(notice.undoable) && (
              <Undo undoable={notice.undoable} />
            )}
            <button type="button" class="link" onClick={close}>
              Close this note
            </button>
          </p>
        </div>
      )}
    </div>
  );
}

function Undo({ undoable }: { undoable: Undoable }) {
  const { route } = useLocation();
  const [isUndoing, setUndoing] = useState(false);
  const button = useRef<HTMLButtonElement>(null);
  const takeBack = async () => {
    if (isUndoing) return;
    setUndoing(true);
    const main = button.current?.closest('main');
    const problem = await undo(undoable);
    setUndoing(false);
    if (problem !== undefined) return announce(`It could not be undone. ${problem}`);
    announce('Undone: what you saved is taken back. What was struck out stays in the history.');
    // The page of a record that is no more leads nowhere.
    const isGone = undoable.entries.some(({ id }) => location.href.includes(id));
    if (isGone) route(undoable.from);
    else main?.focus();
  };
  return (
    <button
      type="button"
      ref={button}
      class="button quiet small"
      aria-disabled={isUndoing}
      onClick={() => void takeBack()}
    >
      {isUndoing ? 'Undoing…' : 'Undo'}
    </button>
  );
}
