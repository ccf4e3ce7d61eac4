import { afterEach, expect, test } from 'vitest';
import type { Role } from '#shared/roles.ts';
import { mayStrikeHere, mayWriteSomewhere, whyNotWrite } from '../../web/mayWrite.ts';
import { signedIn } from '../../web/signedIn.ts';

afterEach(() => {
  signedIn.value = undefined;
});

const signIn = (roles: Role[], siteRoles: { role: Role; siteId: string }[] = []) => {
  signedIn.value = { id: '1', userName: 'tom', name: 'Tom', roles, siteRoles };
};

test('a cellar hand is not offered what only a head brewer may write', () => {
  signIn(['cellar']);
  expect(mayWriteSomewhere('strain')).toBe(false);
  expect(mayWriteSomewhere('reading')).toBe(true);
});

test('a head brewer of one site is offered it, and nobody who is not signed in', () => {
  signIn(['cellar'], [{ role: 'head', siteId: '2' }]);
  expect(mayWriteSomewhere('strain')).toBe(true);
  signedIn.value = null;
  expect(mayWriteSomewhere('reading')).toBe(false);
});

test('whoever may not save is told whose it is, and what they are here', () => {
  signIn(['lab']);
  expect(whyNotWrite('pitch')).toBe(
    'Only a brewer or head brewer may save this; you are here as Lab. You can look and try, not save.',
  );
  expect(whyNotWrite('count')).toBeUndefined();
  expect(mayStrikeHere()).toBe(false);
  signIn(['head']);
  expect(whyNotWrite('pitch')).toBeUndefined();
  expect(mayStrikeHere()).toBe(true);
});

test('while it is not known who is here, nobody is refused what may yet be sent', () => {
  signedIn.value = undefined;
  expect(whyNotWrite('reading')).toBeUndefined();
});
