import { Hono } from 'hono';
import {
  type Account,
  changeAccount,
  createAccount,
  getAccount,
  listAccounts,
  pendingActivations,
  setActivation,
} from '#db/people/accounts.ts';
import { listSecurityEvents } from '#db/people/securityEvents.ts';
import { lastSeenByAccount, listSessions } from '#db/people/sessions.ts';
import { listSites } from '#db/sites/sites.ts';
import { hourMs } from '#shared/durations.ts';
import { DomainError } from '#shared/errors.ts';
import {
  type NewPersonRequest,
  newPersonRequest,
  type PersonView,
  personChange,
  type SecurityEventView,
} from '#shared/people.ts';
import type { Services } from '../context.ts';
import { jsonBody } from '../validate.ts';
import { endListed, iso, isoOrNull, sessionView } from './account.ts';
import { personView } from './begin.ts';
import { personOf } from './caller.ts';
import { eventBy } from './eventBy.ts';
import { codeSha256, freshId, randomCode } from './secrets.ts';

/** A new person has three days to choose a password. */
const codeMs = 72 * hourMs;
const eventsShown = 200;

/** What a head brewer does with everyone's account. */
export function peopleRoutes(services: Services) {
  const { database, now } = services;
  return new Hono()
    .get('/people', async (context) => {
      const pending = await pendingActivations(database.query, now());
      const seen = await lastSeenByAccount(database.query);
      const items = (await listAccounts(database.query)).map((account) => ({
        ...standing(account),
        codeUntil: isoOrNull(pending.get(account.id) ?? null),
        lastSeen: isoOrNull(seen.get(account.id) ?? null),
      }));
      return context.json({ items }, 200);
    })
    .post('/people', jsonBody(newPersonRequest), async (context) => {
      const { userName, name, roles, siteRoles } = context.req.valid('json');
      const held = await inWords({ roles, siteRoles });
      const id = freshId(now());
      const { code, activation } = freshActivation();
      await createAccount(
        database,
        { id, userName, name, roles, siteRoles, passwordHash: null, createdMs: now(), activation },
        eventBy(context, now(), 'account made', `${userName}: ${held}`),
      );
      return context.json({ id, userName, code, until: iso(activation.expiresMs) }, 201);
    })
    .put('/people/:id', jsonBody(personChange), async (context) => {
      const { name, roles, siteRoles, open } = context.req.valid('json');
      const account = await getAccount(database.query, context.req.param('id'));
      const held = await inWords({ roles, siteRoles });
      await changeAccount(
        database,
        account.id,
        { name, roles, siteRoles, disabledMs: open ? null : (account.disabledMs ?? now()) },
        eventBy(
          context,
          now(),
          'account changed',
          `${account.userName}: ${open ? held : 'closed'}`,
        ),
      );
      return context.json(personView(await getAccount(database.query, account.id)), 200);
    })
    .post('/people/:id/codes', async (context) => {
      const account = await getAccount(database.query, context.req.param('id'));
      const { code, activation } = freshActivation();
      await setActivation(
        database,
        account,
        activation,
        eventBy(context, now(), 'code issued', account.userName),
      );
      return context.json(
        { id: account.id, userName: account.userName, code, until: iso(activation.expiresMs) },
        201,
      );
    })
    .get('/people/:id/sessions', async (context) => {
      const account = await getAccount(database.query, context.req.param('id'));
      const rows = await listSessions(database.query, account.id, now());
      const own = personOf(context).session.id;
      return context.json({ items: rows.map((row) => sessionView(row, own)) }, 200);
    })
    .delete('/people/:id/sessions/:session', async (context) => {
      const account = await getAccount(database.query, context.req.param('id'));
      await endListed(
        services,
        { id: context.req.param('session'), accountId: account.id },
        eventBy(context, now(), 'session ended', account.userName),
      );
      return context.json({ ended: true }, 200);
    })
    .get('/security-events', async (context) => {
      const rows = await listSecurityEvents(database.query, eventsShown);
      const items = rows.map(({ atMs, ...row }): SecurityEventView => ({ ...row, at: iso(atMs) }));
      return context.json({ items }, 200);
    });

  /** @throws DomainError `invalid` when a site is not in the log */
  async function inWords({ roles, siteRoles = [] }: Pick<NewPersonRequest, 'roles' | 'siteRoles'>) {
    const sites = new Map((await listSites(database.query)).map(({ id, name }) => [id, name]));
    const atSites = siteRoles.map(({ role, siteId }, index) => {
      const site = sites.get(siteId);
      if (site !== undefined) return `${role} at ${site}`;
      const path = `siteRoles.${index}.siteId`;
      throw new DomainError('invalid', 'There is no such site in the log.', [
        { path, message: 'There is no such site in the log' },
      ]);
    });
    return [...roles, ...atSites].join(', ');
  }

  function freshActivation() {
    const code = randomCode();
    return { code, activation: { codeSha256: codeSha256(code), expiresMs: now() + codeMs } };
  }
}

const standing = (account: Account): Omit<PersonView, 'codeUntil' | 'lastSeen'> => ({
  ...personView(account),
  isOpen: account.disabledMs === null,
  hasPassword: account.passwordHash !== null,
});
