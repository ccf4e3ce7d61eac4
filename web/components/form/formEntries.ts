import { entry as entrySchema } from '#shared/entries/entry.ts';
import { freshId } from '../../outbox/freshId.ts';
import type { Problem } from '../../server.ts';
import type { Attempt } from './drafts.ts';
import type { EntryDraft } from './entryDraft.ts';
import type { Spec, Typed } from './fields.ts';
import { momentOf } from './whenAndWho.ts';

export type Fields = Record<string, Spec<unknown>>;
export type Values<F extends Fields> = {
  [K in keyof F]: (F[K] extends Spec<infer T> ? T : never) | undefined;
};
export type FieldProblem = { name: string; message: string };

type FieldAt = (path: string, index: number, typed: Typed) => string | undefined;

/** How what was typed becomes entries. */
export type EntryMaking<F extends Fields> = {
  fields: F;
  /** The entry these values make, or several to be written one after another. */
  entry: (values: Values<F>, typed: Typed) => EntryDraft | EntryDraft[];
  /** Checks the schema cannot know; shown beside the field. */
  alsoCheck?: (values: Values<F>, typed: Typed) => FieldProblem[];
  /** What makes an entry the same one when it is sent again; all of it, unless said otherwise. */
  identity?: (draft: EntryDraft) => string;
  /** Which of several entries this is, whatever its amounts. */
  which?: (draft: EntryDraft) => string;
  /** Where a refusal of the entry belongs, when it is not the field of that name. */
  fieldAt?: FieldAt;
  /** The entry this form corrects; the form then asks why. */
  corrects?: { entryId: string; happenedAt: string } | undefined;
  /** The entry that waits on this device and is put right before it goes, under its own id. */
  mends?: { id: string; happenedAt: string; by: string };
};

/** What the person saw to stand in the log in place of one of the entries, and corrects. */
type Over = { which: string; entryId: string };

type Made = { attempt: Attempt } | { problems: FieldProblem[] };

const onlyOne = () => '';

/**
 * The entries a form makes, ready to be sent. One that was sent before without a good answer keeps
 * its id though it was changed since: should it have arrived, the log then shows both.
 */
export function entriesOf<F extends Fields>(
  making: EntryMaking<F>,
  fields: Fields,
  typed: Typed,
  { before, over }: { before: Attempt | undefined; over?: Over | undefined },
): Made {
  const { entry, identity = JSON.stringify, which = onlyOne, corrects, mends, fieldAt } = making;
  const about = JSON.stringify(typed);
  // The same words sent again carry the same ids and moment, so a lost answer doubles nothing.
  if (before?.about === about && over === undefined) return { attempt: before };
  const values = valuesOf(making.fields, typed);
  const moment = momentOf(typed, Date.now(), (corrects ?? mends)?.happenedAt);
  const misread = Object.entries(fields).flatMap(([name, spec]) => {
    const parsed = spec.parse(typed[name] ?? '', typed);
    return 'problem' in parsed ? [{ name, message: parsed.problem }] : [];
  });
  const sentAs = (draft: EntryDraft) => before?.entries.find((sent) => sent.which === which(draft));
  const corrected = (draft: EntryDraft) =>
    over?.which === which(draft)
      ? over.entryId
      : (corrects?.entryId ?? (mends === undefined ? sentAs(draft)?.entry.supersedes : undefined));
  const drafts = [entry(values, typed)].flat();
  const checked = drafts.map((draft) =>
    entrySchema.safeParse({
      ...draft,
      happenedAt: 'value' in moment ? moment.value : new Date(0).toISOString(),
      by: (typed.by ?? '').trim(),
      ...correctionOf(corrected(draft), corrects === undefined ? arrivedUnheard : typed.reason),
    }),
  );
  const refused = checked.flatMap(({ error }, index) =>
    (error?.issues ?? []).map(({ path, message }) =>
      placed(path.map(String).join('.'), message, index, fields, typed, fieldAt),
    ),
  );
  const wrong = 'problem' in moment ? [{ name: 'whenText', message: moment.problem }] : [];
  const problems = firstPerField([
    ...misread,
    ...wrong,
    ...(making.alsoCheck?.(values, typed) ?? []),
    ...refused,
    ...(refused.length > 0 ? amountLeftOut(fields, typed) : []),
  ]);
  if (problems.length > 0) return { problems };
  const asked = JSON.stringify(['when', 'whenText', 'by', 'reason'].map((name) => typed[name]));
  const entries = checked.flatMap(({ data }, index) => {
    const draft = drafts[index];
    if (data === undefined || draft === undefined) return [];
    const isOver = over?.which === which(draft);
    const same = `${asked} ${identity(draft)}`;
    const sent = isOver ? undefined : sentAs(draft);
    // Of several entries some may be written already: these are sent as they were.
    if (sent?.same === same) return [sent];
    return [{ id: mends?.id ?? sent?.id ?? freshId(), entry: data, same, which: which(draft) }];
  });
  return { attempt: { about, entries } };
}

/** Why an entry is corrected that had arrived though its answer was lost. */
export const arrivedUnheard = 'Changed before it was known to have arrived';

const correctionOf = (supersedes: string | undefined, reason: string | undefined) =>
  supersedes === undefined ? {} : { supersedes, reason: (reason ?? '').trim() };

export function valuesOf<F extends Fields>(fields: F, typed: Typed): Values<F>;
export function valuesOf(fields: Fields, typed: Typed): Record<string, unknown> {
  return Object.fromEntries(
    Object.entries(fields).map(([name, spec]) => {
      const parsed = spec.parse(typed[name] ?? '', typed);
      return [name, 'value' in parsed ? parsed.value : undefined];
    }),
  );
}

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

/** The schema asks for one of two amounts only once all else is right; a form says all at once. */
function amountLeftOut(fields: Fields, typed: Typed): FieldProblem[] {
  const spec = fields.amount;
  if (spec === undefined || spec.optional === true || (typed.amount ?? '').trim() !== '') return [];
  return [{ name: 'amount', message: missing(spec) }];
}

function firstPerField(problems: readonly FieldProblem[]): FieldProblem[] {
  return problems.filter(
    ({ name, message }, at) =>
      problems.findIndex(
        (other) => other.name === name && (name !== '' || other.message === message),
      ) === at,
  );
}

/** What the log refused, beside the fields it speaks of. */
export function refusalsOf(
  problem: Problem,
  index: number,
  { fieldAt, fields, typed }: { fieldAt?: FieldAt; fields: Fields; typed: Typed },
): FieldProblem[] {
  return problem.errors.map(({ path, message }) => ({
    name: fieldAt?.(path, index, typed) ?? fieldNamed(path, fields),
    message,
  }));
}
