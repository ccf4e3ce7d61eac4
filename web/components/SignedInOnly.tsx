import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import { useLocation } from 'preact-iso/router';
import { SignIn } from '../pages/signIn.tsx';
import { Welcome } from '../pages/welcome.tsx';
import { signedIn } from '../signedIn.ts';

/**
 * The pages, for whoever is signed in. When a session ends the page stays where it is, out of
 * sight, with all that was typed, until someone has signed in again.
 */
export function SignedInOnly({ children }: { children: ComponentChildren }) {
  const { path } = useLocation();
  const isIn = signedIn.value !== null && signedIn.value !== undefined;
  const wasIn = useRef(isIn);
  wasIn.current ||= isIn;
  if (path === '/welcome') return <Welcome />;
  return (
    <>
      {!isIn && <SignIn goesOn={wasIn.current} />}
      {wasIn.current && <div hidden={!isIn}>{children}</div>}
    </>
  );
}
