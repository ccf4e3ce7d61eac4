import { platoFromSg } from '#shared/science/gravity.ts';
import type { Unit } from '#shared/tradeUnits.ts';
import { massUnit, plainUnit, temperatureUnit, volumeUnit } from '#shared/tradeUnits.ts';
import type { Reading } from '#shared/typedNumber.ts';
import { readNumber } from '#shared/typedNumber.ts';
import { gravitiesMeant, gravityTyped } from '../../gravityText.ts';
import { units } from '../../settings.ts';

export type Option = { value: string; label: string; hint?: string };
export type Typed = Readonly<Record<string, string>>;
/** A value, or what is wrong with what was typed; undefined where nothing was. */
type Parsed<T> = { value: T | undefined } | { problem: string };

/** One field: how it is asked, and how what is typed becomes what is stored. */
export type Spec<T> = {
  label: string;
  hint?: string | undefined;
  optional?: boolean | undefined;
  control: 'text' | 'number' | 'textarea' | 'choice' | 'select' | 'day' | 'check';
  options?: readonly Option[];
  /** Shown behind the box; the label carries it in words. */
  unit?: (typed: Typed) => { sign: string; words: string };
  inputMode?: 'decimal' | 'numeric' | 'text';
  /** Narrow boxes for codes and figures. */
  width?: 'narrow' | 'wide';
  capitals?: boolean;
  suggestions?: readonly string[] | undefined;
  /** What may be meant, as it would be typed, where the figure belongs to another scale. */
  offers?: (text: string) => readonly string[];
  parse: (text: string, typed: Typed) => Parsed<T>;
  /**
   * A stored value as the person would have typed it. A method, so that the frame of a form, which
   * looks at no value, takes a spec of any: each is shown only the fact of its own name.
   */
  show(value: T): string;
};

type Ask = { label: string; hint?: string | undefined; optional?: boolean | undefined };

export function text(
  ask: Ask & { capitals?: boolean; suggestions?: readonly string[] | undefined },
): Spec<string> {
  return { ...ask, control: 'text', parse: parseText(ask.capitals ?? false), show: (v) => v };
}

export function paragraph(ask: Ask): Spec<string> {
  return { ...ask, control: 'textarea', parse: parseText(false), show: (v) => v };
}

export const note = () => paragraph({ label: 'Note', optional: true });

/** A short list, all of it in sight. */
export function choice<const T extends string>(
  ask: Ask & { options: readonly (Option & { value: T })[] },
): Spec<T> {
  return { ...ask, control: 'choice', parse: parseOneOf(ask.options), show: (v) => v };
}

/** A longer list, such as lots or FVs. */
export function select<const T extends string>(
  ask: Ask & { options: readonly (Option & { value: T })[] },
): Spec<T> {
  return { ...ask, control: 'select', parse: parseOneOf(ask.options), show: (v) => v };
}

export const plainOptions = <const T extends string>(values: readonly T[]) =>
  values.map((value) => ({ value, label: value.slice(0, 1).toUpperCase() + value.slice(1) }));

export function decimal(
  ask: Ask & { unit?: string; unitWords?: string; marks?: string[] },
): Spec<number> {
  return measured(ask, () => plainUnit(ask.unit ?? '', ask.unitWords ?? ask.unit ?? '', ask.marks));
}

export function whole(
  ask: Ask & { unit?: string; unitWords?: string; marks?: string[] },
): Spec<number> {
  return { ...decimal(ask), inputMode: 'numeric' };
}

export const temperature = (ask: Ask): Spec<number> => ({
  ...measured(ask, () => temperatureUnit[units.value.temperature]),
  // Phones show no minus on the decimal keypad.
  inputMode: 'text',
});

/** Beer or wort, in the brewery's volume unit. */
export const volume = (ask: Ask) => measured(ask, () => volumeUnit[units.value.volume]);

/** Yeast of a lot that is measured in litres or weighed. */
export const yeast = (ask: Ask & { measuredIn: 'L' | 'kg' }) =>
  measured(ask, () => yeastUnit(ask.measuredIn));

/** Yeast where a field beside it, named `amountIn`, says whether litres or weight. */
export const yeastEitherWay = (ask: Ask) =>
  measured(ask, (typed) => yeastUnit(typed.amountIn === 'kg' ? 'kg' : 'L'));

export const amountIn = (): Spec<'L' | 'kg'> =>
  choice({
    label: 'Measured or weighed?',
    options: [
      { value: 'L', label: 'Litres' },
      {
        value: 'kg',
        label: massUnit[units.value.mass].words.replace(/^./, (c) => c.toUpperCase()),
      },
    ],
  });

export function gravityField(ask: Ask): Spec<number> {
  const show = (value: number) =>
    String(Number((units.value.gravity === 'SG' ? value * 1000 : platoFromSg(value)).toFixed(2)));
  return {
    ...ask,
    offers: (typed) => gravitiesMeant(typed, units.value.gravity).map(show),
    control: 'number',
    width: 'narrow',
    inputMode: 'decimal',
    unit: () =>
      units.value.gravity === 'SG'
        ? { sign: 'SG', words: 'such as 1040' }
        : { sign: '°P', words: 'degrees Plato' },
    parse: (typed) => given(gravityTyped(typed, ask.label, units.value.gravity)),
    show,
  };
}

export function day(ask: Ask): Spec<string> {
  return { ...ask, control: 'day', parse: parseText(false), show: (v) => v };
}

/** Yes or no. */
export function check(ask: Ask): Spec<boolean> {
  return {
    ...ask,
    optional: true,
    control: 'check',
    parse: (typed) => ({ value: typed === 'yes' }),
    show: (value) => (value ? 'yes' : ''),
  };
}

/** The amount as an entry holds it: litres or kilograms, one of the two. */
export function amountEntry(unit: 'L' | 'kg' | undefined, value: number | undefined) {
  if (value === undefined) return {};
  return unit === 'kg' ? { amountKg: value } : { amountL: value };
}

function yeastUnit(unit: 'L' | 'kg'): Unit {
  return unit === 'L' ? volumeUnit.L : massUnit[units.value.mass];
}

function measured(ask: Ask, unitOf: (typed: Typed) => Unit): Spec<number> {
  return {
    ...ask,
    control: 'number',
    width: 'narrow',
    inputMode: 'decimal',
    unit: unitOf,
    parse: (text, typed) => {
      const unit = unitOf(typed);
      const read = given(readNumber(text, ask.label, unit));
      return 'value' in read && read.value !== undefined
        ? { value: unit.toStored(read.value) }
        : read;
    },
    show: (value) => shortest(unitOf({}).fromStored(value)),
  };
}

const shortest = (value: number) => String(Number(value.toPrecision(6)));

function given(read: Reading): Parsed<number> {
  if ('problem' in read) return read;
  return { value: 'value' in read ? read.value : undefined };
}

const parseText = (capitals: boolean) => (typed: string) => {
  const trimmed = typed.trim();
  if (trimmed === '') return { value: undefined };
  return { value: capitals ? trimmed.toUpperCase() : trimmed };
};

function parseOneOf<T extends string>(options: readonly { value: T }[]) {
  return (typed: string) => ({ value: options.find(({ value }) => value === typed)?.value });
}
