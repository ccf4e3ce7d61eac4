import type { Entry } from '#shared/entries/entry.ts';
import type { EntryNow } from '#shared/staleEntry.ts';
import { entryFacts } from '../../entryWords.ts';
import { localStamp, moment } from '../../format.ts';
import type { Spec } from './fields.ts';
import type { Form } from './useForm.ts';

export type Difference = { name: string; label: string; typed: string; standing: string };

/** Asked of the entry itself and not of its facts. */
const asides = ['by', 'reason', 'when'];

/** Each field whose text differs from what the entry that stands now would show in it. */
export function differences(
  { fields, typed }: Pick<Form, 'fields' | 'typed'>,
  body: Entry,
): Difference[] {
  const stored = new Map<string, unknown>(Object.entries(body));
  const amount = stored.get('amountL') ?? stored.get('amountKg');
  const facts = new Map([
    ...stored,
    ...(amount === undefined ? [] : ([['amount', amount]] as const)),
    ['whenText', localStamp(new Date(body.happenedAt))],
  ]);
  return Object.entries(fields).flatMap(([name, spec]) => {
    if (asides.includes(name)) return [];
    const value = facts.get(name);
    const mine = typed[name] ?? '';
    const standing =
      value === undefined || typeof value === 'object' ? '' : shown(spec, name, value);
    const said = named(spec, mine);
    return said === standing ? [] : [{ name, label: spec.label, typed: said, standing }];
  });
}

function shown(spec: Spec<unknown>, name: string, value: unknown): string {
  const text = name === 'whenText' ? String(value) : spec.show(value);
  return named(spec, text);
}

const named = ({ options }: Pick<Spec<unknown>, 'options'>, text: string) =>
  options?.find(({ value }) => value === text)?.label ?? text;

/** What the log holds, when that was written down, and why. */
export function whatStands({ body, reason, receivedAt }: EntryNow): string {
  const why = reason === null ? '' : ` “${reason}”`;
  if (body.kind === 'void') return `It was struck out ${moment(receivedAt)}.${why}`;
  return `It now says: ${entryFacts(body)}. Written down ${moment(receivedAt)}.${why}`;
}
