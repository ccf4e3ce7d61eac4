import type { Spec } from './fields.ts';
import { decimal } from './fields.ts';

type Ask = { label: string; hint?: string | undefined; optional?: boolean | undefined };

/** Several short texts in one box, parted by commas or lines: cask batches. */
export function textList(ask: Ask): Spec<string[]> {
  return {
    ...ask,
    control: 'text',
    parse: (typed) => ({ value: partsOf(typed, /[,;\n]+/) }),
    show: (value) => value.join(', '),
  };
}

/** Several whole numbers in one box, parted by spaces or commas: cells in each square. */
export function wholeList(ask: Ask): Spec<number[]> {
  return {
    ...ask,
    control: 'text',
    inputMode: 'numeric',
    parse: (typed) => {
      const parts = partsOf(typed, /[\s,;]+/);
      const odd = parts.find((part) => !/^\d{1,5}$/.test(part));
      if (odd !== undefined)
        return { problem: `${ask.label}: “${odd}” is not a whole number of cells` };
      return { value: parts.length === 0 ? undefined : parts.map(Number) };
    },
    show: (value) => value.join(' '),
  };
}

const partsOf = (typed: string, between: RegExp) =>
  typed
    .split(between)
    .map((part) => part.trim())
    .filter((part) => part !== '');

const CELLS_PER_MILLION = 1e6;

/** Cells in suspension, asked in millions per mL and stored in cells per mL. */
export function millionPerMl(ask: Ask): Spec<number> {
  const inMillions = decimal({
    ...ask,
    unit: 'million/mL',
    unitWords: 'million per mL',
    marks: ['million/mL', 'm/mL', 'million'],
  });
  return {
    ...inMillions,
    parse: (typed, all) => {
      const read = inMillions.parse(typed, all);
      if (!('value' in read) || read.value === undefined) return read;
      return { value: read.value * CELLS_PER_MILLION };
    },
    show: (value) => inMillions.show(value / CELLS_PER_MILLION),
  };
}
