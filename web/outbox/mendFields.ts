import type { Entry } from '#shared/entries/entry.ts';
import { factShape, optionalFacts } from '#shared/entries/factSchemas.ts';
import { uuidPattern } from '#shared/fields.ts';
import {
  check,
  day,
  decimal,
  gravityField,
  paragraph,
  type Spec,
  select,
  temperature,
  text,
  volume,
  yeast,
} from '../components/form/fields.ts';
import type { Problem } from '../server.ts';
import { mendLabels } from './mendLabels.ts';

type Leaf = string | number | boolean | (string | number)[];
type MendSpec = Spec<unknown>;

const notAsked = /^(kind|happenedAt|by|supersedes|expected\w+Cells)$/;

/** The facts of an entry by their path, such as `fillings.0.squares`; ids are left alone. */
function leavesOf(entry: object, base = ''): [string, Leaf][] {
  return Object.entries(entry).flatMap(([name, value]): [string, Leaf][] => {
    const path = base + name;
    if (notAsked.test(path) || value === undefined || isId(value)) return [];
    if (isLeaf(value)) return [[path, value]];
    return typeof value === 'object' && value !== null ? leavesOf(value, `${path}.`) : [];
  });
}

const isId = (value: unknown) => typeof value === 'string' && uuidPattern.test(value);
const isLeaf = (value: unknown): value is Leaf =>
  ['string', 'number', 'boolean'].includes(typeof value) ||
  (Array.isArray(value) && value.every((part) => ['string', 'number'].includes(typeof part)));

/** A field for each fact, and for each fact the log asked for besides. */
export function mendFields(entry: Entry, problem?: Problem): Record<string, MendSpec> {
  const known = leavesOf(entry).map(([path, value]): [string, MendSpec] => [
    path,
    specOf(entry.kind, path, value),
  ]);
  const missing = (problem?.errors ?? [])
    .map(({ path }) => path)
    .filter((path) => isAskable(path) && fieldAt(path, Object.fromEntries(known)) === undefined)
    .map((path): [string, MendSpec] => [path, specOf(entry.kind, path)]);
  const refused = problem?.errors.some(({ path }) => path === 'plannedBrewId') ?? false;
  return Object.fromEntries([
    ...known,
    ...missing,
    ...(refused ? [['plannedBrewId', carriesOutNone] as const] : []),
  ]);
}

/** In place of a planned brew that the log refused. */
const carriesOutNone: Spec<null> = {
  label: 'Planned brew',
  control: 'choice',
  options: [{ value: 'none', label: 'Not a planned brew' }],
  parse: (typed) =>
    typed === 'none' ? { value: null } : { problem: 'Say that it is not a planned brew' },
  show: () => 'none',
};

/** A field for each fact that was left out and may still be given. */
export function furtherFields(
  entry: Entry,
  asked: Readonly<Record<string, MendSpec>>,
): Record<string, MendSpec> {
  if (entry.kind === 'void') return {};
  const left = optionalFacts(entry.kind).filter(
    (name) => Reflect.get(entry, name) === undefined && !(name in asked) && !notOffered.test(name),
  );
  return Object.fromEntries(
    left.map((name) => [name, { ...specOf(entry.kind, name), optional: true }]),
  );
}

// An amount is given in one way; what the sums left behind and a reason to override are not typed.
const notOffered = /^(amount\w+|expected\w+Cells|slurryCorrection|override)$/;

const isAskable = (path: string) => path !== '' && !/(^|\.)(id|kind|happenedAt|\w+Id)$/.test(path);

/** The field a refusal belongs to: the fact itself, or the list it stands in. */
export function fieldAt(path: string, fields: object): string | undefined {
  return Object.keys(fields).find((name) => path === name || path.startsWith(`${name}.`));
}

export function mendStart(entry: Entry): Record<string, string> {
  return Object.fromEntries(
    leavesOf(entry).map(([path, value]) => [path, specOf(entry.kind, path, value).show(value)]),
  );
}

/** The entry with the facts now given; what was blanked is left out. */
export function mended(entry: Entry, values: Readonly<Record<string, unknown>>): Entry {
  const copy = structuredClone(entry);
  for (const [path, value] of Object.entries(values)) setAt(copy, path.split('.'), value);
  const isSameAmount = Object.entries(values).every(
    ([path, value]) => !/^amount(L|Kg)$/.test(path) || Reflect.get(entry, path) === value,
  );
  // The cells expected went with the amount there was.
  if (!isSameAmount)
    for (const name of Object.keys(copy))
      if (name.startsWith('expected')) Reflect.deleteProperty(copy, name);
  return copy;
}

function setAt(target: object, [name = '', ...rest]: readonly string[], value: unknown): void {
  if (rest.length === 0) {
    if (value === undefined) Reflect.deleteProperty(target, name);
    else Reflect.set(target, name, value);
    return;
  }
  const inner: unknown = Reflect.get(target, name);
  if (typeof inner === 'object' && inner !== null) setAt(inner, rest, value);
}

const inWords = (name: string) =>
  name
    .replace(/[A-Z]/g, (letter) => ` ${letter.toLowerCase()}`)
    .replace(/^./, (letter) => letter.toUpperCase());

function specOf(kind: Entry['kind'], path: string, value?: Leaf): MendSpec {
  const name = path.split('.').at(-1) ?? path;
  const { label, unit } = mendLabels[name] ?? { label: inWords(name) };
  const ask = { label };
  if (Array.isArray(value)) return listOf(ask, value);
  if (name === 'amountL') return yeast({ ...ask, measuredIn: 'L' });
  if (name === 'amountKg') return yeast({ ...ask, measuredIn: 'kg' });
  if (name === 'volumeL') return volume(ask);
  if (name.endsWith('ravitySg')) return gravityField(ask);
  if (/^(\w*T|t)empC$/.test(name)) return temperature(ask);
  if (/^on[A-Z]|On$/.test(name)) return day(ask);
  if (/^(note|why|reason|override)$/.test(name)) return paragraph(ask);
  const shape = kind === 'void' ? 'text' : factShape(kind, path);
  if (shape === 'number') return decimal({ ...ask, ...(unit !== undefined && { unit }) });
  if (shape === 'yes or no') return check(ask);
  if (typeof shape === 'object')
    return select({ ...ask, options: shape.choices.map((each) => ({ value: each, label: each })) });
  return text({ ...ask, capitals: name === 'code' || name === 'gyle' });
}

/** A list as it is written in one line: "38, 41, 35". */
function listOf(ask: { label: string }, before: readonly (string | number)[]) {
  const isNumbers = before.every((part) => typeof part === 'number');
  return {
    ...text(ask),
    parse: (typed: string) => {
      const parts = typed.split(/[,\s]+/).filter((part) => part !== '');
      if (!isNumbers) return { value: parts };
      const numbers = parts.map(Number);
      return numbers.some(Number.isNaN)
        ? { problem: `${ask.label} must be numbers with commas between them` }
        : { value: numbers };
    },
    show: (list: readonly (string | number)[]) => list.join(', '),
  };
}
