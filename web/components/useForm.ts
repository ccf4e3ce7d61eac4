import { useRef, useState } from 'preact/hooks';
import { entry as entrySchema } from '#shared/entries/entry.ts';
import type { EntryNow } from '#shared/staleEntry.ts';
import { uuidV7 } from '#shared/uuid.ts';
import type { Problem, Saved } from '../apiClient.ts';
import { deliver } from '../outbox/deliver.ts';
import { person } from '../settings.ts';
import type { Attempt } from './drafts.ts';
import { dropDraft, keepDraft, readDraft } from './drafts.ts';
import type { EntryDraft } from './entryDraft.ts';
import type { Spec, Typed } from './fields.ts';
import { formProblems } from './formProblems.ts';
import { clearNotice, sayItWaits } from './Notice.tsx';
import { commonFields, commonStart, momentOf } from './whenAndWho.ts';

// biome-ignore lint/suspicious/noExplicitAny: a spec of any value; each form keeps its own types
export type Fields = Record<string, Spec<any>>;
export type Values<F extends Fields> = {
  [K in keyof F]: (F[K] extends Spec<infer T> ? T : never) | undefined;
};
export type FieldProblem = { name: string; message: string };

type FieldAt = (path: string, index: number, typed: Typed) => string | undefined;

export type FormOptions<F extends Fields> = {
  /** Names the draft on this device; one per form and record. */
  key: string;
  fields: F;
  start?: { [K in keyof F]?: string | undefined };
  /** The entry these values make, or several to be written one after another. */
  entry: (values: Values<F>, typed: Typed) => EntryDraft | EntryDraft[];
  /** Checks the schema cannot know; shown beside the field. */
  alsoCheck?: (values: Values<F>, typed: Typed) => FieldProblem[];
  /** What makes an entry the same one when it is sent again; all of it, unless said otherwise. */
  identity?: (draft: EntryDraft) => string;
  /** Where a refusal of the entry belongs, when it is not the field of that name. */
  fieldAt?: FieldAt;
  onSaved: (saved: Saved[], values: Values<F>) => void;
  /** The entry this form corrects; the form then asks why. */
  corrects?: { entryId: string; happenedAt: string } | undefined;
  /** The entry that waits on this device and is put right before it goes, under its own id. */
  mends?: { id: string; happenedAt: string; by: string };
};

export type Form<F extends Fields = Fields> = {
  key: string;
  fields: Fields;
  typed: Typed;
  values: Values<F>;
  set: (name: string, text: string) => void;
  problems: readonly FieldProblem[];
  saving: boolean;
  keptFromBefore: boolean;
  correcting: boolean;
  submit: (event?: Event) => void;
  startAfresh: () => void;
  /** What someone else made of the entry meanwhile; undefined while it stands as it did. */
  stale: EntryNow | undefined;
  /** Corrects what stands now with what was typed. */
  saveOver: () => void;
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
  const [stale, setStale] = useState<EntryNow>();
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
    if (stale === undefined) write(undefined);
  };
  const write = (over: string | undefined) => {
    if (saving) return;
    const made = entriesOf({ ...options, over }, fields, all, attempt.current);
    if ('problems' in made) return show(made.problems);
    attempt.current = made.attempt;
    keepDraft(key, latest.current, attempt.current);
    show([]);
    setSaving(true);
    void deliver(made.attempt.entries, { stays: mends !== undefined }).then((result) => {
      setSaving(false);
      if ('problem' in result) {
        if (result.problem.current !== undefined) {
          // What was typed stays; it is another entry once it corrects what stands now.
          attempt.current = undefined;
          keepDraft(key, latest.current);
          setStale(result.problem.current);
        }
        const found = refusalsOf(result.problem, result.index, { ...options, fields, typed: all });
        return show(found, result.problem.detail);
      }
      // A device without a person takes the first; later entries for others leave it alone.
      if (person.value === '') person.value = (all.by ?? '').trim();
      startAfresh();
      clearNotice();
      options.onSaved(result.saved, valuesOf(options.fields, all));
      if (result.saved.some(({ waits }) => waits)) sayItWaits();
    });
  };
  return {
    key,
    fields,
    typed: all,
    values: valuesOf(options.fields, all),
    set,
    problems,
    saving,
    keptFromBefore: draft.current !== null,
    correcting: corrects !== undefined,
    submit,
    startAfresh,
    stale,
    saveOver: () => write(stale?.id),
  };
}

const withoutGaps = (start: Record<string, string | undefined>): Typed =>
  Object.fromEntries(Object.entries(start).map(([name, text]) => [name, text ?? '']));

function valuesOf<F extends Fields>(fields: F, typed: Typed): Values<F>;
function valuesOf(fields: Fields, typed: Typed): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(fields).map(([name, spec]) => {
      const parsed = spec.parse(typed[name] ?? '', typed);
      return [name, 'value' in parsed ? parsed.value : undefined];
    }),
  );
}

type Made = { attempt: Attempt } | { problems: FieldProblem[] };

function entriesOf<F extends Fields>(
  {
    fields: own,
    entry,
    alsoCheck,
    corrects,
    mends,
    fieldAt,
    identity = JSON.stringify,
    over,
  }: FormOptions<F> & { over: string | undefined },
  fields: Fields,
  typed: Typed,
  before: Attempt | undefined,
): Made {
  const about = JSON.stringify(typed);
  // The same words sent again carry the same ids and moment, so a lost answer doubles nothing.
  if (before?.about === about) return { attempt: before };
  const values = valuesOf(own, typed);
  const moment = momentOf(typed, Date.now(), (corrects ?? mends)?.happenedAt);
  const misread = Object.entries(fields).flatMap(([name, spec]) => {
    const parsed = spec.parse(typed[name] ?? '', typed);
    return 'problem' in parsed ? [{ name, message: parsed.problem }] : [];
  });
  const envelope = {
    happenedAt: 'value' in moment ? moment.value : new Date(0).toISOString(),
    by: (typed.by ?? '').trim(),
    ...(corrects && { supersedes: corrects.entryId, reason: (typed.reason ?? '').trim() }),
    ...(over !== undefined && { supersedes: over }),
  };
  const drafts = [entry(values, typed)].flat();
  const checked = drafts.map((draft) => entrySchema.safeParse({ ...draft, ...envelope }));
  const refused = checked.flatMap(({ error }, index) =>
    (error?.issues ?? []).map(({ path, message }) =>
      placed(path.map(String).join('.'), message, index, fields, typed, fieldAt),
    ),
  );
  const wrong = 'problem' in moment ? [{ name: 'whenText', message: moment.problem }] : [];
  const problems = firstPerField([
    ...misread,
    ...wrong,
    ...(alsoCheck?.(values, typed) ?? []),
    ...refused,
  ]);
  if (problems.length > 0) return { problems };
  const asked = JSON.stringify(['when', 'whenText', 'by', 'reason'].map((name) => typed[name]));
  const entries = checked.flatMap(({ data }, index) => {
    const draft = drafts[index];
    if (data === undefined || draft === undefined) return [];
    const same = `${asked} ${identity(draft)}`;
    // Of several entries some may be written already: these are sent as they were.
    return [
      before?.entries.find((sent) => sent.same === same) ?? {
        id: mends?.id ?? freshId(),
        entry: data,
        same,
      },
    ];
  });
  return { attempt: { about, entries } };
}

const freshId = () => uuidV7(Date.now(), crypto.getRandomValues(new Uint8Array(10)));

function placed(
  path: string,
  message: string,
  index: number,
  fields: Fields,
  typed: Typed,
  fieldAt?: FieldAt,
): FieldProblem {
  const name = fieldAt?.(path, index, typed) ?? fieldNamed(path, fields);
  const spec = fields[name];
  const isBlank = spec !== undefined && (typed[name] ?? '').trim() === '';
  return { name, message: isBlank ? missing(spec) : message };
}

function fieldNamed(path: string, fields: Fields): string {
  if (path in fields) return path;
  if ((path === 'amountL' || path === 'amountKg') && 'amount' in fields) return 'amount';
  if (path === 'happenedAt') return 'whenText';
  const [first = ''] = path.split('.');
  return first in fields ? first : '';
}

function missing({ control, label }: Spec<unknown>): string {
  if (label.endsWith('?')) return `Answer: ${label}`;
  const verb = control === 'choice' || control === 'select' ? 'Choose' : 'Enter';
  const inSentence = /^[A-Z]{2}/.test(label)
    ? label
    : label.slice(0, 1).toLowerCase() + label.slice(1);
  return `${verb} ${/^(your|how|what|why|where) /.test(inSentence) ? '' : 'the '}${inSentence}`;
}

function firstPerField(problems: readonly FieldProblem[]): FieldProblem[] {
  return problems.filter(
    ({ name, message }, at) =>
      problems.findIndex(
        (other) => other.name === name && (name !== '' || other.message === message),
      ) === at,
  );
}

function refusalsOf(
  problem: Problem,
  index: number,
  { fieldAt, fields, typed }: { fieldAt?: FieldAt; fields: Fields; typed: Typed },
): FieldProblem[] {
  return problem.errors.map(({ path, message }) => ({
    name: fieldAt?.(path, index, typed) ?? fieldNamed(path, fields),
    message,
  }));
}
