import { useState } from 'preact/hooks';
import type { Saved } from '../../apiClient.ts';
import { person } from '../../settings.ts';
import { clearNotice, offerUndo, sayItWaits } from '../frame/Notice.tsx';
import type { Attempt } from './drafts.ts';
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
import { allSaved } from './sentEntries.ts';
import { type KeptTyping, useKeptTyping } from './useKeptTyping.ts';
import { type Stale, useSending } from './useSending.ts';
import { commonFields, commonStart } from './whenAndWho.ts';

type FormOptions<F extends Fields> = EntryMaking<F> & {
  /** Names the draft on this device; one per form and record. */
  key: string;
  start?: { [K in keyof F]?: string | undefined };
  onSaved: (saved: Saved[], values: Values<F>) => void;
};

export type Form<F extends Fields = Fields> = Pick<
  KeptTyping,
  'set' | 'keptFromMs' | 'startAfresh'
> & {
  key: string;
  fields: Fields;
  typed: Typed;
  values: Values<F>;
  problems: readonly FieldProblem[];
  saving: boolean;
  correcting: boolean;
  submit: (event?: Event) => void;
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
  const kept = useKeptTyping(key, {
    ...commonStart((corrects ?? mends)?.happenedAt, mends?.by),
    ...withoutGaps(options.start ?? {}),
  });
  const typed = kept.all;
  const values = valuesOf(options.fields, typed);
  const [problems, setProblems] = useState<readonly FieldProblem[]>([]);
  const show = (found: readonly FieldProblem[], headline?: string) => {
    setProblems(found);
    formProblems.value = { form: key, headline, items: found.map((item) => ({ ...item })) };
  };
  const { saving, stale, send, keepStored, forgetStale } = useSending(options, kept, {
    onSent: () => show([]),
    onRefused: (problem, nth) =>
      show(refusalsOf(problem, nth, { ...options, fields, typed }), problem.detail),
    onAccepted: (answers, sent) => {
      const from = `${location.pathname}${location.search}`;
      rememberPerson(typed.by);
      startAfresh();
      clearNotice();
      options.onSaved(allSaved(sent, answers), values);
      sayWhatWasDone(answers, sent, mends === undefined ? from : undefined);
    },
  });
  const startAfresh = () => {
    kept.startAfresh();
    setProblems([]);
    forgetStale();
    formProblems.value = null;
  };
  const write = (over?: { which: string; entryId: string }) => {
    if (saving) return;
    const made = entriesOf(options, fields, typed, { before: kept.attempt(), over });
    if ('problems' in made) show(made.problems);
    else send(made.attempt);
  };
  return {
    key,
    fields,
    typed,
    values,
    set: kept.set,
    problems,
    saving,
    keptFromMs: kept.keptFromMs,
    correcting: corrects !== undefined,
    submit: (event) => {
      event?.preventDefault();
      // What stands now is written over only when it was seen.
      if (stale === undefined) write();
    },
    startAfresh,
    stale,
    saveOver: () => stale && write({ which: stale.mine.which, entryId: stale.now.id }),
    keepStored,
  };
}

const withoutGaps = (start: Record<string, string | undefined>): Typed =>
  Object.fromEntries(Object.entries(start).map(([name, text]) => [name, text ?? '']));

/** A device without a person takes the first; later entries for others leave it alone. */
function rememberPerson(by: string | undefined): void {
  if (person.value === '') person.value = (by ?? '').trim();
}

/** What is said below the page; what can be undone leads back to where it was done, if that is known. */
function sayWhatWasDone(answers: readonly Saved[], { entries }: Attempt, from?: string): void {
  if (answers.some(({ waits }) => waits)) sayItWaits();
  const made = entries.filter(({ isSettled }) => !isSettled);
  if (from !== undefined) offerUndo({ entries: made, from });
}
