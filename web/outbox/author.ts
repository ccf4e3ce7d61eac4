import { signal } from '@preact/signals';

/**
 * The account signed in on this device, set by whoever signs people in; null where nobody does.
 * Entries keep the account they were made under, and another account does not send them.
 */
export const author = signal<string | null>(null);

export type Holder = { id: string; name: string };

/** Whoever signed in last: what is typed on the pages still open is theirs, also once signed out. */
export const holder = signal<Holder | null>(null);

/** The server wants to know who sends; cleared by the next entry it takes. */
export const signInNeeded = signal(false);
