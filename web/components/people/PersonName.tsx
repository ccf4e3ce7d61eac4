import { useEffect, useRef, useState } from 'preact/hooks';
import { useLocation } from 'preact-iso/router';
import { roleNames } from '../../roleWords.ts';
import { leave } from '../../session.ts';
import { signedIn } from '../../signedIn.ts';
import '../../styles/people.css';

/** Who is signed in, and the way to the account and out. */
export function PersonName() {
  const [isOpen, setOpen] = useState(false);
  const { path } = useLocation();
  useEffect(() => setOpen(false), [path]);
  const button = useRef<HTMLButtonElement>(null);
  useEffect(() => {
    if (!isOpen) return;
    const onKey = ({ key }: KeyboardEvent) => {
      if (key !== 'Escape') return;
      setOpen(false);
      button.current?.focus();
    };
    // It closes behind whoever goes on past it.
    const onFocus = ({ target }: FocusEvent) => {
      const isWithin = target instanceof Node && button.current?.parentElement?.contains(target);
      if (!isWithin) setOpen(false);
    };
    addEventListener('keydown', onKey);
    addEventListener('focusin', onFocus);
    return () => {
      removeEventListener('keydown', onKey);
      removeEventListener('focusin', onFocus);
    };
  }, [isOpen]);
  const who = signedIn.value;
  if (who === null || who === undefined) return null;
  return (
    <div class="person">
      <button
        type="button"
        ref={button}
        class="link"
        aria-expanded={isOpen}
        aria-controls="account-menu"
        onClick={() => setOpen(!isOpen)}
      >
        <span class="unseen">You are </span>
        {who.name}
      </button>
      {isOpen && (
        <div class="account-menu" id="account-menu">
          <p>
            <strong>{who.name}</strong>
            <br />
            {roleNames(who)}
          </p>
          <p>
            <a href="/people">{who.roles.includes('head') ? 'People and account' : 'Account'}</a>
          </p>
          <p>
            <button type="button" class="button quiet" onClick={() => void leave()}>
              Sign out
            </button>
          </p>
        </div>
      )}
    </div>
  );
}
