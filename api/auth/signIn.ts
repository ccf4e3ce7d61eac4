import type { Context } from 'hono';
import { sha256 } from '#db/journal/hash.ts';
import { type Account, findAccount, renewPasswordHash } from '#db/people/accounts.ts';
import { securityEventStatement } from '#db/people/securityEvents.ts';
import { isKnownDevice } from '#db/people/sessions.ts';
import { settleAttempts } from '#db/people/throttle.ts';
import type { Services } from '../context.ts';
import { RequestError } from '../problem.ts';
import { addressOf, type PersonCaller } from './caller.ts';
import { cookieOf } from './cookies.ts';
import { hashPassword, isOutdated, isPassword } from './passwords.ts';
import { allowAttempt, byAddress, byKnownDevice, byName, bySession } from './throttleRules.ts';

/** The account of a user name and its password; a wrong name is not told from a wrong password. */
export async function provenAccount(
  { database, now }: Services,
  context: Context,
  typed: { userName: string; password: string },
): Promise<Account> {
  const userName = typed.userName.trim().toLowerCase();
  const account = await findAccount(database.query, { userName });
  const device = cookieOf(context, 'device');
  const isKnown =
    account !== undefined &&
    device !== undefined &&
    (await isKnownDevice(database.query, sha256(device), account.id));
  const address = byAddress(addressOf(context));
  const own = isKnown ? byKnownDevice(device) : byName(userName);
  await allowAttempt(database, isKnown ? [own] : [own, address], now());
  const passwordHash = account?.disabledMs === null ? account.passwordHash : null;
  const isRight = await isPassword(passwordHash, typed.password);
  if (account === undefined || !isRight) {
    await noteFailure({ database, now }, context, userName);
    throw new RequestError('wrong_password', 'The user name or the password is wrong.');
  }
  await settleAttempts(database, {
    afresh: [own.subject],
    takeBack: isKnown ? [] : [address.subject],
  });
  if (passwordHash !== null && isOutdated(passwordHash))
    await renewPasswordHash(database, account.id, await hashPassword(typed.password));
  return account;
}

/** The person of a session gives the password again. */
export async function proveAgain(
  { database, now }: Services,
  context: Context,
  { caller, password }: { caller: PersonCaller; password: string },
): Promise<void> {
  const rule = bySession(caller.session.id);
  await allowAttempt(database, [rule], now());
  if (!(await isPassword(caller.account.passwordHash, password))) {
    await noteFailure({ database, now }, context, caller.account.userName);
    throw new RequestError('wrong_password', 'The password is wrong.');
  }
  await settleAttempts(database, { afresh: [rule.subject], takeBack: [] });
}

async function noteFailure(
  { database, now }: Pick<Services, 'database' | 'now'>,
  context: Context,
  userName: string,
): Promise<void> {
  await database.write([
    securityEventStatement({
      atMs: now(),
      what: 'sign-in failed',
      userName,
      address: addressOf(context),
    }),
  ]);
}
