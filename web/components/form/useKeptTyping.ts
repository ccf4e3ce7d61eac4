import { useRef, useState } from 'preact/hooks';
import type { Attempt } from './drafts.ts';
import { dropDraft, keepDraft, readDraft } from './drafts.ts';
import type { Typed } from './fields.ts';

export type KeptTyping = {
  /** What stands in the fields: what they began with, and over it what was typed. */
  all: Typed;
  set: (name: string, text: string) => void;
  /** When what stands in it was typed, where that was before the page was opened [ms]. */
  keptFromMs: number | undefined;
  /** What was last sent without a good answer. */
  attempt: () => Attempt | undefined;
  remember: (attempt: Attempt | undefined) => void;
  startAfresh: () => void;
};

/** What is typed into a form, and what was sent of it, kept on this device until the log has it. */
export function useKeptTyping(key: string, start: Typed): KeptTyping {
  const draft = useRef(readDraft(key));
  const attempt = useRef<Attempt | undefined>(draft.current?.attempt);
  // What a reload of the page's facts brings must not change a form under the hands.
  const begun = useRef<Typed>(start);
  const [typed, setTyped] = useState<Typed>(draft.current?.typed ?? {});
  const latest = useRef(typed);
  return {
    all: { ...start, ...begun.current, by: start.by ?? '', ...typed },
    set: (name, text) => {
      latest.current = { ...latest.current, [name]: text };
      setTyped(latest.current);
      keepDraft(key, latest.current, attempt.current);
    },
    keptFromMs: draft.current?.at,
    attempt: () => attempt.current,
    remember: (next) => {
      attempt.current = next;
      keepDraft(key, latest.current, next);
    },
    startAfresh: () => {
      dropDraft(key);
      draft.current = null;
      attempt.current = undefined;
      begun.current = start;
      latest.current = {};
      setTyped({});
    },
  };
}
