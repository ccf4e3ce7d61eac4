import { expect, test } from 'vitest';
import { stepped } from '../../web/components/form/stepped.ts';

test('a first crop starts at nothing: no press writes an amount that nobody gave', () => {
  expect(stepped('', 5, undefined)).toBe('5');
  expect(stepped('', -5, undefined)).toBeUndefined();
});

test('with a crop before it, the first press starts at its amount, and the next ones move it', () => {
  expect(stepped('', 5, 30)).toBe('30');
  expect(stepped('30', 5, 30)).toBe('35');
  expect(stepped('2,5', -0.5, 30)).toBe('2');
  expect(stepped('2', -5, 30)).toBe('0');
});

test('what is no number stays as it was typed', () => {
  expect(stepped('abc', 1, 30)).toBeUndefined();
});
