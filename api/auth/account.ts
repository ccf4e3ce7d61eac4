import { Hono } from 'hono';
import { sha256 } from '#db/journal/hash.ts';
import { setPassword } from '#db/people/accounts.ts';
import { createFeedKey, listFeedKeys, revokeFeedKey } from '#db/people/feedKeys.ts';
import type { SecurityEvent } from '#db/people/securityEvents.ts';
import { endSession, listSessions, type Session } from '#db/people/sessions.ts';
import { DomainError } from '#shared/errors.ts';
import { type FeedKeyView, newPasswordRequest, type SessionView } from '#shared/people.ts';
import type { Services } from '../context.ts';
import { jsonBody } from '../validate.ts';
import { acceptable } from './acceptable.ts';
import { cookieAgeS } from './begin.ts';
import { personOf } from './caller.ts';
import { setCookie } from './cookies.ts';
import { eventBy } from './eventBy.ts';
import { hashPassword } from './passwords.ts';
import { freshId, randomToken } from './secrets.ts';
import { proveAgain } from './signIn.ts';

/** What a person does with their own account. */
export function accountRoutes(services: Services) {
  const { database, now } = services;
  return new Hono()
    .put('/account/password', jsonBody(newPasswordRequest), async (context) => {
      const caller = personOf(context);
      const { account, session } = caller;
      const { current, password } = context.req.valid('json');
      await proveAgain(services, context, { caller, password: current });
      await acceptable(database, password, account);
      const passwordHash = await hashPassword(password);
      const token = randomToken();
      await setPassword(
        database,
        { account, passwordHash, kept: { id: session.id, tokenSha256: sha256(token) } },
        eventBy(context, now(), 'password set'),
      );
      setCookie(context, 'session', { value: token, maxAgeS: cookieAgeS(session, now()) });
      return context.json({ changed: true }, 200);
    })
    .get('/account/sessions', async (context) => {
      const { account, session } = personOf(context);
      const rows = await listSessions(database.query, account.id, now());
      return context.json({ items: rows.map((row) => sessionView(row, session.id)) }, 200);
    })
    .delete('/account/sessions/:id', async (context) => {
      const { account } = personOf(context);
      const id = context.req.param('id');
      await endListed(
        services,
        { id, accountId: account.id },
        eventBy(context, now(), 'session ended'),
      );
      return context.json({ ended: true }, 200);
    })
    .get('/account/feed-keys', async (context) => {
      const rows = await listFeedKeys(database.query, personOf(context).account.id);
      const items = rows.map(
        (row): FeedKeyView => ({
          id: row.id,
          made: iso(row.createdMs),
          lastUsed: isoOrNull(row.lastUsedMs),
        }),
      );
      return context.json({ items }, 200);
    })
    .post('/account/feed-keys', async (context) => {
      const { account } = personOf(context);
      const key = randomToken();
      const id = freshId(now());
      await createFeedKey(
        database,
        { id, accountId: account.id, keySha256: sha256(key), createdMs: now() },
        eventBy(context, now(), 'feed key made'),
      );
      return context.json({ id, key }, 201);
    })
    .delete('/account/feed-keys/:id', async (context) => {
      const { account } = personOf(context);
      await revokeFeedKey(
        database,
        { id: context.req.param('id'), accountId: account.id },
        eventBy(context, now(), 'feed key revoked'),
      );
      return context.json({ revoked: true }, 200);
    });
}

/**
 * Ends one of the sessions that are listed.
 * @throws DomainError `not_found` when this person has no such session, or no longer
 */
export async function endListed(
  { database, now }: Services,
  { id, accountId }: Pick<Session, 'id' | 'accountId'>,
  event: SecurityEvent,
): Promise<void> {
  const held = await listSessions(database.query, accountId, now());
  if (!held.some((session) => session.id === id))
    throw new DomainError('not_found', 'There is no such sign-in, or it is over.');
  await endSession(database, { id, accountId }, event);
}

export const iso = (ms: number) => new Date(ms).toISOString();
export const isoOrNull = (ms: number | null) => (ms === null ? null : iso(ms));

export const sessionView = (row: Session, ownId: string): SessionView => ({
  id: row.id,
  device: row.device,
  since: iso(row.createdMs),
  lastSeen: iso(row.lastSeenMs),
  until: iso(Math.min(row.expiresMs, row.lastSeenMs + row.idleMs)),
  isThis: row.id === ownId,
});
