import { signal } from '@preact/signals';

/**
 * The account signed in on this device, set by whoever signs people in; null where nobody does.
 * Entries keep the account they were made under, and another account does not send them.
 */
export const author = signal<string | null>(null);

/** The server wants to know who sends; cleared by the next entry it takes. */
export const signInNeeded = signal(false);
