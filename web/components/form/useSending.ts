import { useState } from 'preact/hooks';
import type { EntryNow } from '#shared/staleEntry.ts';
import type { Saved } from '../../apiClient.ts';
import { deliver } from '../../outbox/deliver.ts';
import type { Problem } from '../../server.ts';
import type { Attempt, SentEntry } from './drafts.ts';
import type { EntryMaking, Fields } from './formEntries.ts';
import { afterRefusal, openEntries, withEntries, withSaved } from './sentEntries.ts';
import type { KeptTyping } from './useKeptTyping.ts';

/** What the log holds in place of one of the entries sent. */
export type Stale = {
  now: EntryNow;
  mine: SentEntry;
  /** It is this very entry, as it was first sent: its answer was lost, and it was changed since. */
  hasArrived: boolean;
};

/** What the form does with the log's answer. */
type Answers = {
  onSent: () => void;
  /** The nth entry of the form was refused. */
  onRefused: (problem: Problem, nth: number) => void;
  onAccepted: (answers: readonly Saved[], sent: Attempt) => void;
};

type Way = Pick<EntryMaking<Fields>, 'corrects' | 'mends'>;

/** The entries of a form on their way to the log, and what stands there in their place. */
export function useSending(
  { corrects, mends }: Way,
  { attempt, remember }: Pick<KeptTyping, 'attempt' | 'remember'>,
  { onSent, onRefused, onAccepted }: Answers,
) {
  const [saving, setSaving] = useState(false);
  const [stale, setStale] = useState<Stale>();
  const setApart = (mine: SentEntry, now: EntryNow | undefined) => {
    const hasArrived = now !== undefined && (corrects === undefined || now.id === mine.id);
    const left = attempt();
    // What was typed stays; it is another entry once it takes another id or corrects what stands now.
    if (!hasArrived) remember(left && withEntries(left, (entry) => entry.id !== mine.id && entry));
    if (now !== undefined && mends === undefined) setStale({ now, mine, hasArrived });
  };
  const send = (made: Attempt) => {
    remember(made);
    onSent();
    setStale(undefined);
    setSaving(true);
    const open = openEntries(made);
    void deliver(open, { stays: mends !== undefined }).then(({ saved, refusal }) => {
      setSaving(false);
      if (refusal === undefined) return onAccepted(saved, made);
      const { problem, index } = refusal;
      const taken = withSaved(made, saved);
      // Without a clear answer it may have arrived: it then stays the entry it was.
      remember(isRefused(problem) ? afterRefusal(taken) : taken);
      const mine = open[index];
      if (problem.status === 409 && mine !== undefined) setApart(mine, problem.current);
      onRefused(problem, mine === undefined ? index : made.entries.indexOf(mine));
    });
  };
  const keepStored = () => {
    const sent = attempt();
    if (stale === undefined) return;
    const { mine } = stale;
    setStale(undefined);
    if (sent === undefined) return;
    send(
      withEntries(sent, (entry) => (entry.id === mine.id ? { ...entry, isSettled: true } : entry)),
    );
  };
  return { saving, stale, send, keepStored, forgetStale: () => setStale(undefined) };
}

// A conflict shows what stands, and the entry stays what it was until a person has chosen.
const isRefused = ({ status }: Problem) => status >= 400 && status < 500 && status !== 409;
