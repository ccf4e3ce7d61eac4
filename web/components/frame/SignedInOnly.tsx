import type { ComponentChildren } from 'preact';
import { useRef } from 'preact/hooks';
import { useLocation } from 'preact-iso/router';
import { SignIn } from '../../pages/signIn.tsx';
import { Welcome } from '../../pages/welcome.tsx';
import { signedIn } from '../../signedIn.ts';

/**
 * The pages, for whoever is signed in. When a session ends the page stays where it is, out of
 * sight, with all that was typed, until its owner has signed in again; anyone else begins afresh.
 */
export function SignedInOnly({ children }: { children: ComponentChildren }) {
  const { path } = useLocation();
  const here = signedIn.value?.id;
  const isIn = here !== undefined;
  const owner = useRef(here);
  if (isIn) owner.current = here;
  const wasIn = owner.current !== undefined;
  if (path === '/welcome') return <Welcome />;
  return (
    <>
      {!isIn && <SignIn goesOn={wasIn} />}
      {wasIn && (
        <div key={owner.current} hidden={!isIn}>
          {children}
        </div>
      )}
    </>
  );
}
