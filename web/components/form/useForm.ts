import { useRef, useState } from 'preact/hooks';
import type { EntryNow } from '#shared/staleEntry.ts';
import type { Saved } from '../../apiClient.ts';
import { deliver } from '../../outbox/deliver.ts';
import type { Problem } from '../../server.ts';
import { person } from '../../settings.ts';
import { clearNotice, offerUndo, sayItWaits } from '../frame/Notice.tsx';
import type { Attempt, SentEntry } from './drafts.ts';
import { dropDraft, keepDraft, readDraft } from './drafts.ts';
import type { Typed } from './fields.ts';
import {
  type EntryMaking,
  entriesOf,
  type FieldProblem,
  type Fields,
  refusalsOf,
  type Values,
  valuesOf,
} from './formEntries.ts';
import { formProblems } from './formProblems.ts';
import { afterRefusal, allSaved, openEntries, withEntries, withSaved } from './sentEntries.ts';
import { commonFields, commonStart } from './whenAndWho.ts';

type FormOptions<F extends Fields> = EntryMaking<F> & {
  /** Names the draft on this device; one per form and record. */
  key: string;
  start?: { [K in keyof F]?: string | undefined };
  onSaved: (saved: Saved[], values: Values<F>) => void;
};

/** What the log holds in place of one of the entries sent. */
type Stale = {
  now: EntryNow;
  mine: SentEntry;
  /** It is this very entry, as it was first sent: its answer was lost, and it was changed since. */
  hasArrived: boolean;
};

export type Form<F extends Fields = Fields> = {
  key: string;
  fields: Fields;
  typed: Typed;
  values: Values<F>;
  set: (name: string, text: string) => void;
  problems: readonly FieldProblem[];
  saving: boolean;
  /** When what stands in it was typed, where that was before the page was opened [ms]. */
  keptFromMs: number | undefined;
  correcting: boolean;
  submit: (event?: Event) => void;
  startAfresh: () => void;
  /** Undefined while what is known here is what the log holds. */
  stale: Stale | undefined;
  /** Corrects what stands now with what was typed. */
  saveOver: () => void;
  /** Takes what stands now for what was to be saved. */
  keepStored: () => void;
};

export function useForm<F extends Fields>(options: FormOptions<F>): Form<F> {
  const { key, corrects, mends } = options;
  const fields: Fields = { ...options.fields, ...commonFields(corrects !== undefined) };
  const start = {
    ...commonStart((corrects ?? mends)?.happenedAt, mends?.by),
    ...withoutGaps(options.start ?? {}),
  };
  const draft = useRef(readDraft(key));
  const attempt = useRef<Attempt | undefined>(draft.current?.attempt);
  // What a reload of the page's facts brings must not change a form under the hands.
  const begun = useRef<Typed>(start);
  const [typed, setTyped] = useState<Typed>(draft.current?.typed ?? {});
  const [problems, setProblems] = useState<readonly FieldProblem[]>([]);
  const [saving, setSaving] = useState(false);
  const [stale, setStale] = useState<Stale>();
  const latest = useRef(typed);

  const all: Typed = { ...start, ...begun.current, by: start.by ?? '', ...typed };
  const set = (name: string, text: string) => {
    latest.current = { ...latest.current, [name]: text };
    setTyped(latest.current);
    keepDraft(key, latest.current, attempt.current);
  };
  const show = (found: readonly FieldProblem[], headline?: string) => {
    setProblems(found);
    formProblems.value = { form: key, headline, items: found.map((item) => ({ ...item })) };
  };
  const startAfresh = () => {
    dropDraft(key);
    draft.current = null;
    attempt.current = undefined;
    begun.current = start;
    latest.current = {};
    setTyped({});
    setProblems([]);
    setStale(undefined);
    formProblems.value = null;
  };
  const submit = (event?: Event) => {
    event?.preventDefault();
    // What stands now is written over only when it was seen.
    if (stale === undefined) write();
  };
  const write = (over?: { which: string; entryId: string }) => {
    if (saving) return;
    const made = entriesOf(options, fields, all, { before: attempt.current, over });
    if ('problems' in made) return show(made.problems);
    setStale(undefined);
    send(made.attempt);
  };
  const remember = (next: Attempt | undefined) => {
    attempt.current = next;
    keepDraft(key, latest.current, next);
  };
  const send = (made: Attempt) => {
    remember(made);
    show([]);
    setSaving(true);
    const open = openEntries(made);
    void deliver(open, { stays: mends !== undefined }).then(({ saved, refusal }) => {
      setSaving(false);
      if (refusal === undefined) return finish(saved, made);
      const { problem, index } = refusal;
      const taken = withSaved(made, saved);
      // Without a clear answer it may have arrived: it then stays the entry it was.
      remember(isRefused(problem) ? afterRefusal(taken) : taken);
      const mine = open[index];
      if (problem.status === 409 && mine !== undefined) setApart(mine, problem.current);
      const at = mine === undefined ? index : made.entries.indexOf(mine);
      show(refusalsOf(problem, at, { ...options, fields, typed: all }), problem.detail);
    });
  };
  const setApart = (mine: SentEntry, now: EntryNow | undefined) => {
    const hasArrived = now !== undefined && (corrects === undefined || now.id === mine.id);
    // What was typed stays; it is another entry once it takes another id or corrects what stands now.
    if (!hasArrived)
      remember(
        attempt.current && withEntries(attempt.current, (entry) => entry.id !== mine.id && entry),
      );
    if (now !== undefined && mends === undefined) setStale({ now, mine, hasArrived });
  };
  const keepStored = () => {
    if (stale === undefined) return;
    const { mine } = stale;
    setStale(undefined);
    if (attempt.current === undefined) return;
    send(
      withEntries(attempt.current, (entry) =>
        entry.id === mine.id ? { ...entry, isSettled: true } : entry,
      ),
    );
  };
  const finish = (answers: readonly Saved[], sent: Attempt) => {
    const saved = allSaved(sent, answers);
    // A device without a person takes the first; later entries for others leave it alone.
    if (person.value === '') person.value = (all.by ?? '').trim();
    const from = `${location.pathname}${location.search}`;
    startAfresh();
    clearNotice();
    options.onSaved(saved, valuesOf(options.fields, all));
    if (answers.some(({ waits }) => waits)) sayItWaits();
    const made = sent.entries.filter(({ isSettled }) => !isSettled);
    if (mends === undefined) offerUndo({ entries: made, from });
  };
  return {
    key,
    fields,
    typed: all,
    values: valuesOf(options.fields, all),
    set,
    problems,
    saving,
    keptFromMs: draft.current?.at,
    correcting: corrects !== undefined,
    submit,
    startAfresh,
    stale,
    saveOver: () => stale && write({ which: stale.mine.which, entryId: stale.now.id }),
    keepStored,
  };
}

const withoutGaps = (start: Record<string, string | undefined>): Typed =>
  Object.fromEntries(Object.entries(start).map(([name, text]) => [name, text ?? '']));

// A conflict shows what stands, and the entry stays what it was until a person has chosen.
const isRefused = ({ status }: Problem) => status >= 400 && status < 500 && status !== 409;
