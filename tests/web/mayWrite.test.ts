import { afterEach, expect, test } from 'vitest';
import type { Role } from '#shared/roles.ts';
import { mayWriteSomewhere } from '../../web/mayWrite.ts';
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
