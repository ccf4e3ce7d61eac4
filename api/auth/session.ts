import { Hono } from 'hono';
import {
  accountToActivate,
  activate,
  createFirstAccount,
  getAccount,
  hasAccounts,
} from '#db/people/accounts.ts';
import { endSession, proveSession } from '#db/people/sessions.ts';
import { settleAttempts } from '#db/people/throttle.ts';
import {
  activationRequest,
  firstAccountRequest,
  proofRequest,
  type SessionState,
  signInRequest,
} from '#shared/people.ts';
import type { Services } from '../context.ts';
import { RequestError } from '../problem.ts';
import { jsonBody } from '../validate.ts';
import { acceptable } from './acceptable.ts';
import { begin, personView } from './begin.ts';
import { addressOf, findPerson, personOf } from './caller.ts';
import { setCookie } from './cookies.ts';
import { eventBy } from './eventBy.ts';
import { isLoopback } from './hosts.ts';
import { randomPassphrase } from './passwordRules.ts';
import { hashPassword } from './passwords.ts';
import { codeSha256, freshId, sameDigest } from './secrets.ts';
import { proveAgain, provenAccount } from './signIn.ts';
import { allowAttempt, byAddress, byCode } from './throttleRules.ts';

/** Signing in and out, and the two ways to a first password. */
export function sessionRoutes(services: Services) {
  const { database, now, access } = services;
  return new Hono()
    .get('/session', async (context) => {
      const person = await findPerson(database, context, now());
      const address = addressOf(context);
      const isBehindProxy = context.req.header('x-forwarded-for') !== undefined;
      const state: SessionState = {
        person: person === undefined ? null : personView(person.account),
        isNew: !(await hasAccounts(database.query)),
        isThisComputer: address !== null && isLoopback(address) && !isBehindProxy,
        demo: access?.demo ?? [],
      };
      return context.json(state, 200);
    })
    .post('/session', jsonBody(signInRequest), async (context) => {
      const { keep, ...typed } = context.req.valid('json');
      const account = await provenAccount(services, context, typed);
      return context.json(await begin(services, context, { account, keep }), 201);
    })
    .delete('/session', async (context) => {
      const { session } = personOf(context);
      await endSession(database, session, eventBy(context, now(), 'signed out'));
      setCookie(context, 'session', { value: '', maxAgeS: 0 });
      return context.json({ signedOut: true }, 200);
    })
    .post('/session/proofs', jsonBody(proofRequest), async (context) => {
      const caller = personOf(context);
      const { password } = context.req.valid('json');
      await proveAgain(services, context, { caller, password });
      await proveSession(database, caller.session.id, now());
      return context.json({ proved: true }, 201);
    })
    .post('/first-account', jsonBody(firstAccountRequest), async (context) => {
      const { code, password, keep, ...named } = context.req.valid('json');
      await allowAttempt(database, [byCode()], now());
      const welcome = access?.welcome;
      const isRight =
        welcome !== undefined &&
        now() < welcome.untilMs &&
        sameDigest(welcome.codeSha256, codeSha256(code));
      if (!isRight)
        throw new RequestError(
          'wrong_password',
          'This code is not, or no longer, good: start Barmbook again for a new one.',
        );
      await settleAttempts(database, { afresh: [byCode().subject], takeBack: [] });
      const id = freshId(now());
      const roles = ['head'] as const;
      await acceptable(database, password, { ...named, roles });
      await createFirstAccount(
        database,
        { id, ...named, roles, passwordHash: await hashPassword(password), createdMs: now() },
        {
          atMs: now(),
          what: 'first account',
          userName: named.userName,
          address: addressOf(context),
        },
      );
      const account = await getAccount(database.query, id);
      return context.json(await begin(services, context, { account, keep }), 201);
    })
    .post('/activations', jsonBody(activationRequest), async (context) => {
      const { code, password, keep } = context.req.valid('json');
      const rule = byAddress(addressOf(context));
      await allowAttempt(database, [rule], now());
      const account = await accountToActivate(database.query, codeSha256(code), now());
      if (account === undefined) throw usedUp();
      await settleAttempts(database, { afresh: [], takeBack: [rule.subject] });
      await acceptable(database, password, account);
      const isFirst = await activate(
        database,
        { account, passwordHash: await hashPassword(password), code: codeSha256(code) },
        {
          atMs: now(),
          what: 'password set',
          userName: account.userName,
          address: addressOf(context),
        },
      );
      if (!isFirst) throw usedUp();
      return context.json(await begin(services, context, { account, keep }), 201);
    })
    .get('/passphrase', (context) => context.json({ passphrase: randomPassphrase() }, 200));
}

const usedUp = () =>
  new RequestError(
    'wrong_password',
    'This code is not, or no longer, good: ask the head brewer for a new one.',
  );
