import { hashPassword } from '#api/auth/passwords.ts';

/** What people sign in with in the tests of signing in, and its hash, worked out once a file. */
export const knownPassword = 'a tall ship under bare poles';
export const knownPasswordHash = await hashPassword(knownPassword);
