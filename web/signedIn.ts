import { signal } from '@preact/signals';
import type { Person, SessionState } from '#shared/people.ts';

/** Who is signed in here; null is nobody, undefined is not yet known. */
export const signedIn = signal<Person | null | undefined>(undefined);

/** Someone else has signed in beside this page: the server is asked who is there. */
export const isDoubted = signal(false);

/** How the server receives who is not signed in; null until it was asked. */
export const entrance = signal<Omit<SessionState, 'person'> | null>(null);
