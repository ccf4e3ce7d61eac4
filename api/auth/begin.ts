import type { Context } from 'hono';
import { sha256 } from '#db/journal/hash.ts';
import type { Account } from '#db/people/accounts.ts';
import { beginSession, isKnownDevice, type Session } from '#db/people/sessions.ts';
import { dayMs, hourMs } from '#shared/durations.ts';
import type { Person } from '#shared/people.ts';
import type { Services } from '../context.ts';
import { addressOf } from './caller.ts';
import { cookieOf, setCookie } from './cookies.ts';
import { deviceInWords } from './deviceInWords.ts';
import { freshId, randomToken } from './secrets.ts';

/**
 * Kept on a device of one's own: a month at most, and through a fortnight's closing without use.
 * Otherwise one shift, in the browser's memory only: on a phone or lab PC that passes from hand to
 * hand. At the machine itself the first is preset: whoever sits there has passed its own lock.
 */
const limits = {
  kept: { lifeMs: 30 * dayMs, idleMs: 14 * dayMs },
  shift: { lifeMs: 12 * hourMs, idleMs: 12 * hourMs },
} as const;
/** How long the browser keeps the cookie of a session [s]; of a shift, as long as it runs. */
export const cookieAgeS = ({ idleMs, expiresMs }: Session, nowMs: number): number | undefined =>
  idleMs > limits.shift.idleMs ? Math.floor((expiresMs - nowMs) / 1000) : undefined;

const knownDeviceS = 365 * 86_400;

/** Begins a session of a person who has proved who they are; the token is always a new one. */
export async function begin(
  { database, now }: Services,
  context: Context,
  { account, keep }: { account: Account; keep: boolean },
): Promise<Person> {
  const nowMs = now();
  const { lifeMs, idleMs } = keep ? limits.kept : limits.shift;
  const token = randomToken();
  const known = cookieOf(context, 'device');
  const isKnown =
    known !== undefined && (await isKnownDevice(database.query, sha256(known), account.id));
  const device = isKnown ? known : randomToken();
  await beginSession(
    database,
    {
      id: freshId(nowMs),
      tokenSha256: sha256(token),
      accountId: account.id,
      device: deviceInWords(context.req.header('user-agent')),
      createdMs: nowMs,
      provedMs: nowMs,
      lastSeenMs: nowMs,
      idleMs,
      expiresMs: nowMs + lifeMs,
    },
    {
      knownDeviceSha256: isKnown ? null : sha256(device),
      event: {
        atMs: nowMs,
        what: 'signed in',
        userName: account.userName,
        address: addressOf(context),
      },
    },
  );
  setCookie(context, 'session', { value: token, maxAgeS: keep ? lifeMs / 1000 : undefined });
  setCookie(context, 'device', { value: device, maxAgeS: knownDeviceS });
  return personView(account);
}

export const personView = ({ id, userName, name, roles, siteRoles }: Account): Person => ({
  id,
  userName,
  name,
  roles,
  siteRoles,
});
