import type { RecordKind } from '#shared/entries/entry.ts';
import { isOneOf, mayStrikeOut, writersOf } from '#shared/permissions.ts';
import { rolesAnywhere } from '#shared/roles.ts';
import { roleNames, roleWords } from './roleWords.ts';
import { signedIn } from './signedIn.ts';

/** Whether whoever is signed in may write this kind down, at one site at least. */
export function mayWriteSomewhere(kind: RecordKind): boolean {
  const person = signedIn.value;
  return person != null && isOneOf({ roles: rolesAnywhere(person) }, writersOf[kind]);
}

/** Why whoever is signed in may not; undefined when they may, or nobody is known to be here. */
export function whyNotWrite(kind: RecordKind): string | undefined {
  const person = signedIn.value;
  if (person == null || mayWriteSomewhere(kind)) return undefined;
  const needed = writersOf[kind].map((role) => roleWords[role].name).join(' or ');
  return `Only a ${needed.toLowerCase()} may save this; you are here as ${roleNames(person)}. You can look and try, not save.`;
}

/** Whether whoever is signed in may strike an entry out. */
export function mayStrikeHere(): boolean {
  const person = signedIn.value;
  return person != null && mayStrikeOut({ roles: rolesAnywhere(person) });
}
