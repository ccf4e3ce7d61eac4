import { dayMs } from '#shared/durations.ts';
import type { Entry } from '#shared/entries/entry.ts';
import type { Saved } from '../../apiClient.ts';
import { keep, kept, keptNames } from '../../deviceMemory.ts';
import { holder } from '../../outbox/author.ts';
import { chosenSite } from '../../siteChoice.ts';
import type { Typed } from './fields.ts';

/** An entry as it was sent, and what it is known by when it is sent again. */
export type SentEntry = {
  id: string;
  entry: Entry;
  same: string;
  /** Which of several entries of the form it is. */
  which: string;
  /** The log is left as it stands in its place. */
  isSettled?: boolean;
  /** What the log answered when it took the entry, while another of the form was refused. */
  saved?: Saved;
};
export type Attempt = { about: string; entries: SentEntry[] };
/** What is open on this device: what was typed, and what was last sent without an answer. */
type Draft = { typed: Typed; attempt?: Attempt | undefined; at: number };

const longestMs = 7 * dayMs;
const prefix = 'barmbook.draft.';
/** What one person began at one site is not the next one's to send, nor gone on with at another. */
const name = (key: string) =>
  prefix +
  [holder.value?.id ?? '', key, chosenSite.value].filter((part) => part !== null).join('.');

export function readDraft(key: string): Draft | null {
  return draftIn(kept(name(key)));
}

function draftIn(text: string | null): Draft | null {
  if (text === null) return null;
  try {
    const draft: Draft = JSON.parse(text);
    return Date.now() - draft.at < longestMs ? draft : null;
  } catch {
    return null;
  }
}

export function keepDraft(key: string, typed: Typed, attempt?: Attempt): void {
  keep(name(key), JSON.stringify({ typed, attempt, at: Date.now() } satisfies Draft));
}

export function dropDraft(key: string): void {
  keep(name(key), null);
}

/** Drops the drafts nobody came back to. */
export function dropOldDrafts(): void {
  for (const each of keptNames(prefix)) if (draftIn(kept(each)) === null) keep(each, null);
}
