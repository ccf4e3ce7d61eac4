import { type Role, roles } from '#shared/roles.ts';

/**
 * Who may call a route: anyone at all, a device with its token, a calendar with its key, or people
 * with one of the roles listed.
 */
export type Who = 'anyone' | 'device' | 'feed key' | readonly Role[];

/** Everyone with an account: whoever may do anything may read everything. */
export const readers: readonly Role[] = roles;

/** As the document says it. */
export function whoInWords(who: Who): string {
  if (typeof who === 'string')
    return { anyone: 'Anyone', device: 'A device token', 'feed key': 'The key of a feed' }[who];
  return who.length === roles.length ? 'Everyone signed in' : `Signed in as ${who.join(' or ')}`;
}
