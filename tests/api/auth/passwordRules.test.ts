import { expect, test } from 'vitest';
import { passwordRefusal, randomPassphrase } from '#api/auth/passwordRules.ts';

const person = {
  userName: 'ines',
  name: 'Ines Marlowe',
  roles: ['cellar'] as const,
  breweryName: 'Wrackstone Harbour',
};
const head = { ...person, roles: ['head'] as const };

test.each([
  ['too short', 'elevenchars', 'Use 12'],
  ['one letter over and over', 'aaaaaaaaaaaaaaaa', 'few different'],
  ['a common one', '1q2w3e4r5t6y', 'commonest'],
  ['a common one with digits behind it', 'password123 2026', 'commonest'],
  ['the name and the trade', 'InesMarlowe-yeast-2026', 'names and the words'],
  ['the brewery', 'Wrackstone Harbour 1', 'names and the words'],
])('%s is refused', (_what, password, words) => {
  expect(passwordRefusal(password, person)).toContain(words);
});

test('twelve characters do for a cellar hand, a head brewer needs fifteen', () => {
  expect(passwordRefusal('slack-tide-7', person)).toBeUndefined();
  expect(passwordRefusal('slack-tide-7', head)).toContain('Use 15');
  expect(passwordRefusal('slack-tide-and-7', head)).toBeUndefined();
});

test('every suggested passphrase is accepted, and none comes twice', () => {
  const phrases = Array.from({ length: 300 }, randomPassphrase);
  expect(new Set(phrases).size).toBe(300);
  expect(phrases.filter((phrase) => passwordRefusal(phrase, head) !== undefined)).toEqual([]);
  // Five of 7,776 words: 5 × log2(7,776) = 64.6 bits.
  expect(phrases.every((phrase) => phrase.split('-').length >= 5)).toBe(true);
});
