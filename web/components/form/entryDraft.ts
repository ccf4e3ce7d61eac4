import type { Entry } from '#shared/entries/entry.ts';

type Given<T> = { [P in keyof T]?: T[P] | undefined };
type DraftOf<E extends Entry> = E extends Entry
  ? Pick<E, 'kind'> & Given<Omit<E, 'kind' | 'happenedAt' | 'by'>>
  : never;

/** An entry as a form holds it: any fact may still be missing; when and who are added on saving. */
export type EntryDraft = DraftOf<Entry>;
