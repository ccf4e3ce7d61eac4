import type { RecordKind } from '#shared/entries/entry.ts';
import { isOneOf, writersOf } from '#shared/permissions.ts';
import { rolesAnywhere } from '#shared/roles.ts';
import { signedIn } from './signedIn.ts';

/** Whether whoever is signed in may write this kind down, at one site at least. */
export function mayWriteSomewhere(kind: RecordKind): boolean {
  const person = signedIn.value;
  return person != null && isOneOf({ roles: rolesAnywhere(person) }, writersOf[kind]);
}
