import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  isTallySequence,
  type KeyPress,
  keyName,
  keysWith,
  meetsTarget,
  type TallyAct,
  tallied,
  tallyActOf,
  tallyOf,
  usualTallyKeys,
} from '#shared/tally.ts';

const press = (code: string, more: Partial<KeyPress> = {}): KeyPress => ({
  code,
  repeat: false,
  ctrlKey: false,
  altKey: false,
  metaKey: false,
  ...more,
});
const sequenceOf = (acts: readonly TallyAct[]) => acts.reduce(tallied, '');
const anyCell = fc.constantFrom<TallyAct>('live', 'dead', 'bud');
const anyMark = fc.constantFrom<TallyAct>('live', 'dead', 'bud', 'next');

test('tallyActOf(press) reads home row, numpad and the three commands', () => {
  const codes = ['KeyJ', 'KeyK', 'KeyB', 'Numpad1', 'Numpad2', 'Numpad3'];
  expect(codes.map((code) => tallyActOf(press(code), usualTallyKeys))).toEqual([
    'live',
    'dead',
    'bud',
    'live',
    'dead',
    'bud',
  ]);
  const commands = ['Backspace', 'Enter', 'NumpadEnter', 'Escape', 'KeyQ'];
  expect(commands.map((code) => tallyActOf(press(code), usualTallyKeys))).toEqual([
    'undo',
    'next',
    'next',
    'leave',
    undefined,
  ]);
});

test('a held key and a browser shortcut count nothing', () => {
  const ignored = [{ repeat: true }, { ctrlKey: true }, { altKey: true }, { metaKey: true }];
  expect(ignored.map((more) => tallyActOf(press('KeyJ', more), usualTallyKeys))).toEqual([
    undefined,
    undefined,
    undefined,
    undefined,
  ]);
});

test('a tally tells cells by square, class and bud', () => {
  const acts: TallyAct[] = ['live', 'live', 'dead', 'bud', 'next', 'live', 'next', 'next', 'dead'];
  expect(tallyOf(sequenceOf(acts), 'half the mother or larger')).toEqual({
    squares: [4, 1, 0, 1],
    live: 4,
    dead: 2,
    buds: 1,
    cells: 6,
    square: 4,
    inSquare: 1,
  });
});

test('under the rule "no bud" a bud is noted but is no cell', () => {
  const tally = tallyOf('LLBB|DB', 'no bud');
  expect(tally).toMatchObject({ squares: [2, 1], live: 2, dead: 1, buds: 3, cells: 3 });
});

test('a finished empty square counts, an open empty one does not', () => {
  expect(tallyOf('', 'every bud').squares).toEqual([]);
  expect(tallyOf('LL|', 'every bud').squares).toEqual([2]);
  expect(tallyOf('LL||', 'every bud').squares).toEqual([2, 0]);
});

test('undo takes back cells and finished squares down to nothing', () => {
  const sequence = sequenceOf(['live', 'dead', 'next', 'undo', 'undo']);
  expect(sequence).toBe('L');
  expect(sequenceOf(['live', 'undo', 'undo', 'undo'])).toBe('');
});

test('leaving changes nothing', () => {
  expect(tallied('LD|L', 'leave')).toBe('LD|L');
});

test('any mark followed by undo leaves the sequence as it was', () => {
  fc.assert(
    fc.property(fc.array(anyMark, { maxLength: 60 }), anyMark, (acts, last) => {
      const before = sequenceOf(acts);
      expect(tallied(tallied(before, last), 'undo')).toBe(before);
    }),
  );
});

test('cells are live and dead together and the sum of the squares', () => {
  fc.assert(
    fc.property(fc.array(anyMark, { maxLength: 80 }), (acts) => {
      const tally = tallyOf(sequenceOf(acts), 'every bud');
      const marked = acts.filter((act) => act !== 'next').length;
      expect(tally.cells).toBe(marked);
      expect(tally.live + tally.dead).toBe(marked);
      expect(tally.squares.reduce((sum, cells) => sum + cells, 0)).toBe(marked);
    }),
  );
});

test('the order of cells inside a square makes no difference', () => {
  fc.assert(
    fc.property(fc.array(anyCell, { minLength: 1, maxLength: 40 }), (acts) => {
      const forwards = tallyOf(sequenceOf(acts), 'every bud');
      expect(tallyOf(sequenceOf(acts.toReversed()), 'every bud')).toEqual(forwards);
    }),
  );
});

test('the target is met once, by the cell that reaches it', () => {
  const after = (cells: number) => tallyOf('L'.repeat(cells), 'every bud');
  const met = [1, 2, 3, 4, 5].filter((cells) => meetsTarget(after(cells - 1), after(cells), 3));
  expect(met).toEqual([3]);
});

test('text from a store is taken as a tally only when it is one', () => {
  const texts = ['', 'LLD|B', 'LLX', 'lld', 'L L'];
  expect(texts.filter(isTallySequence)).toEqual(['', 'LLD|B']);
});

test('keysWith moves an act to a free key and keeps its numpad key', () => {
  expect(keysWith(usualTallyKeys, 'live', 'KeyF')).toEqual({
    keys: { ...usualTallyKeys, live: ['KeyF', 'Numpad1'] },
  });
  expect(keysWith(usualTallyKeys, 'live', 'KeyK')).toEqual({ taken: 'dead' });
});

test('keyName(code) is what stands on the key', () => {
  expect(['KeyJ', 'Digit4', 'Numpad1', 'NumpadEnter', 'Escape', 'Backspace'].map(keyName)).toEqual([
    'J',
    '4',
    'numpad 1',
    'numpad Enter',
    'Esc',
    'Backspace',
  ]);
});
