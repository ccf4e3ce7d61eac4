import type { budRules } from './words.ts';

/** What a key at the microscope can mean. */
export const tallyClasses = ['live', 'dead', 'bud'] as const;
export const tallyActs = [...tallyClasses, 'undo', 'next', 'leave'] as const;
export type TallyAct = (typeof tallyActs)[number];
export type BudRule = (typeof budRules)[number];

/** Keys by their place on the board, so that layout and Caps Lock do not matter. */
export type TallyKeys = Record<TallyAct, readonly string[]>;

export const usualTallyKeys: TallyKeys = {
  live: ['KeyJ', 'Numpad1'],
  dead: ['KeyK', 'Numpad2'],
  bud: ['KeyB', 'Numpad3'],
  undo: ['Backspace'],
  next: ['Enter', 'NumpadEnter'],
  leave: ['Escape'],
};

export type KeyPress = {
  code: string;
  repeat: boolean;
  ctrlKey: boolean;
  altKey: boolean;
  metaKey: boolean;
};

/** What a key press means; a held key and a shortcut of the browser mean nothing. */
export function tallyActOf(press: KeyPress, keys: TallyKeys): TallyAct | undefined {
  if (press.repeat || press.ctrlKey || press.altKey || press.metaKey) return undefined;
  return tallyActs.find((act) => keys[act].includes(press.code));
}

const marks = { live: 'L', dead: 'D', bud: 'B', next: '|' } as const;

/**
 * The sequence of marks after one more act: L, D and B for a cell, | for a finished square.
 * Undo takes back the last mark, a finished square included.
 */
export function tallied(sequence: string, act: TallyAct): string {
  if (act === 'leave') return sequence;
  return act === 'undo' ? sequence.slice(0, -1) : sequence + marks[act];
}

/** Text read back from a store is a tally only when every mark is one. */
export function isTallySequence(text: string): boolean {
  return /^[LDB|]*$/.test(text);
}

export type Tally = {
  /** Cells in each square counted, buds taken in as the rule says. */
  squares: number[];
  /** Live cells, those buds included that count as cells. */
  live: number;
  dead: number;
  /** Buds marked, whether they count as cells or not. */
  buds: number;
  cells: number;
  /** The square being counted, from 1, and the cells in it so far. */
  square: number;
  inSquare: number;
};

const tellMark = (marked: string, mark: string) => marked.split(mark).length - 1;

/**
 * What a sequence amounts to. A finished square counts even when it is empty;
 * the one still open counts once something is marked in it.
 */
export function tallyOf(sequence: string, budRule: BudRule): Tally {
  const cellsIn = (marked: string) =>
    tellMark(marked, 'L') +
    tellMark(marked, 'D') +
    (budRule === 'no bud' ? 0 : tellMark(marked, 'B'));
  const parts = sequence.split('|');
  const open = parts.at(-1) ?? '';
  const squares = (open === '' ? parts.slice(0, -1) : parts).map(cellsIn);
  const cells = cellsIn(sequence);
  const dead = tellMark(sequence, 'D');
  return {
    squares,
    live: cells - dead,
    dead,
    buds: tellMark(sequence, 'B'),
    cells,
    square: parts.length,
    inSquare: cellsIn(open),
  };
}

/** True for the one act that brings the cells up to the target. */
export function meetsTarget(before: Tally, after: Tally, target: number): boolean {
  return before.cells < target && after.cells >= target;
}

/** Keys with one act moved to another key, or the act that key already serves. */
export function keysWith(
  keys: TallyKeys,
  act: TallyAct,
  code: string,
): { keys: TallyKeys } | { taken: TallyAct } {
  const taken = tallyActs.find((other) => other !== act && keys[other].includes(code));
  if (taken !== undefined) return { taken };
  const others = keys[act].filter((held) => held !== code);
  return { keys: { ...keys, [act]: [code, ...others.slice(1)] } };
}

/** A key as it is printed on most boards: "J", "numpad 1". */
export function keyName(code: string): string {
  const numpad = code.replace(/^Numpad/, '');
  if (numpad !== code) return `numpad ${numpad === 'Enter' ? 'Enter' : numpad}`;
  if (code === 'Escape') return 'Esc';
  return code.replace(/^(Key|Digit)/, '');
}
