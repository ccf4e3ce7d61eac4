import { randomInt } from 'node:crypto';
import { dictionary } from '@zxcvbn-ts/language-common';
import { leastHeadPasswordLength, leastPasswordLength } from '#shared/people.ts';
import type { Role } from '#shared/roles.ts';

const common = new Set(dictionary['passwords-common'].map((password) => password.toLowerCase()));
const words = dictionary['diceware-common'];

/** Words that make no password of themselves here. */
const tradeWords = ['yeast', 'brewery', 'brewer', 'brew', 'barm', 'beer', 'book', 'ale', 'cask'];
const leastOwnLetters = 4;
const leastDistinct = 5;
const wordsInPhrase = 5;

/** Why this password will not do for this person; undefined when it will. */
export function passwordRefusal(
  password: string,
  person: { userName: string; name: string; roles: readonly Role[]; breweryName: string },
): string | undefined {
  const length = [...password.normalize('NFC')].length;
  const isHead = person.roles.includes('head');
  const least = isHead ? leastHeadPasswordLength : leastPasswordLength;
  if (length < least)
    return `Use ${least} characters at least${isHead ? ', for a head brewer' : ''}; several words are easiest`;
  const folded = password.normalize('NFC').toLowerCase();
  if (new Set(folded).size < leastDistinct) return 'Use more than a few different characters';
  const bare = folded.replace(/[\d\s!?.]+$/, '');
  if (common.has(folded) || common.has(bare))
    return 'This password is among the commonest: choose another';
  if (ownLetters(folded, person).length < leastOwnLetters)
    return 'Use more than names and the words of the trade';
  return undefined;
}

/** What is left of a password without digits, signs, names, and words of the trade. */
function ownLetters(
  folded: string,
  { userName, name, breweryName }: { userName: string; name: string; breweryName: string },
): string {
  const known = [userName, ...`${name} ${breweryName}`.toLowerCase().split(/\s+/), ...tradeWords]
    .flatMap((word) => word.toLowerCase().split(/[.-]/))
    .filter((word) => word.length > 2)
    .toSorted((a, b) => b.length - a.length);
  const letters = folded.replace(/[^\p{L}]/gu, ' ');
  return known.reduce((rest, word) => rest.replaceAll(word, ' '), letters).replaceAll(' ', '');
}

/** Five words out of 7,776 at random: 64.6 bits. */
export function randomPassphrase(): string {
  return Array.from({ length: wordsInPhrase }, () => words[randomInt(words.length)] ?? '').join(
    '-',
  );
}
