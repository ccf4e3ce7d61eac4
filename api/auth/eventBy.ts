import type { Context } from 'hono';
import type { SecurityEvent } from '#db/people/securityEvents.ts';
import { addressOf, personOf } from './caller.ts';

/** What the person signed in did, for the list of security events. */
export const eventBy = (
  context: Context,
  atMs: number,
  what: SecurityEvent['what'],
  detail?: string,
): SecurityEvent => ({
  atMs,
  what,
  userName: personOf(context).account.userName,
  address: addressOf(context),
  ...(detail === undefined ? {} : { detail }),
});
