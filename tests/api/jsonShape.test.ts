import { expect, test } from 'vitest';
import { inspectShape } from '#api/jsonShape.ts';

const refused = (text: string) => {
  try {
    inspectShape(text);
    return '';
  } catch (error) {
    return error instanceof Error ? error.message : 'not an error';
  }
};
const tooMuch = 'The body is nested too deep or holds too much.';
const noKey = 'A key of the body is given twice, or is no key at all.';

test('a body is nested twelve deep at the most', () => {
  const deep = (levels: number) => `${'['.repeat(levels)}${']'.repeat(levels)}`;
  expect(refused(deep(12))).toBe('');
  expect(refused(deep(13))).toBe(tooMuch);
  // Side by side is not deep, and a bracket in a text opens nothing.
  expect(refused(`[${Array(30).fill(deep(11)).join(',')}]`)).toBe('');
  expect(refused(`{"note":"${'['.repeat(40)}"}`)).toBe('');
});

// Brackets, commas and texts count, numbers by the comma behind them: 2 brackets and 4,998 commas.
test('a body holds 5,000 parts at the most', () => {
  const list = (commas: number) => `[${'1,'.repeat(commas)}1]`;
  expect(refused(list(4_998))).toBe('');
  expect(refused(list(4_999))).toBe(tooMuch);
});

test('a key is given once in each object, however it is written', () => {
  expect(refused('{"a":1,"a":2}')).toBe(noKey);
  expect(refused('{"a":1,"\\u0061":2}')).toBe(noKey);
  expect(refused('{"b":{"x":[{"a":1}],"a":1,"a":2}}')).toBe(noKey);
  expect(refused('{"__proto__":1}')).toBe(noKey);
  expect(refused('{"a":{"a":{"a":1}},"b":[{"a":1},{"a":1}]}')).toBe('');
  // In a list, and as a value, the same text may stand again.
  expect(refused('{"a":["a","a"],"b":"a","c":"__proto__"}')).toBe('');
  expect(refused('{"a":"\\",\\"a\\":","b":"\\\\","c":1}')).toBe('');
});
