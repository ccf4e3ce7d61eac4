import type { IncomingMessage } from 'node:http';
import type { Context } from 'hono';
import type { Database } from '#db/database.ts';
import { sha256 } from '#db/journal/hash.ts';
import type { Account } from '#db/people/accounts.ts';
import { type DeviceToken, findDeviceToken, touchDeviceToken } from '#db/people/deviceTokens.ts';
import { accountOfFeedKey } from '#db/people/feedKeys.ts';
import {
  beginNextToken,
  isRenewalDue,
  renewSession,
  tokenStanding,
} from '#db/people/sessionRenewal.ts';
import { findSession, type Session, touchSession } from '#db/people/sessions.ts';
import { RequestError } from '../problem.ts';
import { bodyOf } from '../readJson.ts';
import { cookieOf, setCookie } from './cookies.ts';
import { randomToken, sameDigest } from './secrets.ts';

/** Who asks: a person in a session, a device with its token, or the calendar of a person. */
export type Caller =
  | { kind: 'person'; account: Account; session: Session }
  | { kind: 'device'; device: DeviceToken }
  | { kind: 'feed'; account: Account };
export type PersonCaller = Extract<Caller, { kind: 'person' }>;

declare module 'hono' {
  interface ContextVariableMap {
    caller: Caller | undefined;
  }
}

/** The person whose session this is; the gate has let them in. */
export function personOf(context: Context): PersonCaller {
  const caller = context.get('caller');
  if (caller?.kind !== 'person') throw signedOut();
  return caller;
}

/** The device whose token this is; the gate has let it in. */
export function deviceOf(context: Context): DeviceToken {
  const caller = context.get('caller');
  if (caller?.kind !== 'device') throw new RequestError('forbidden', 'Only a device may do this.');
  return caller.device;
}

export const signedOut = () =>
  new RequestError('signed_out', 'Sign in to go on. What you typed is kept on this device.');

/** Looks the session of a request up, notes that it was used, and renews its token once a day. */
export async function findPerson(
  database: Database,
  context: Context,
  nowMs: number,
): Promise<PersonCaller | undefined> {
  const token = cookieOf(context, 'session');
  if (token === undefined) return undefined;
  const tokenSha256 = sha256(token);
  const found = await findSession(database.query, tokenSha256, nowMs);
  if (found === undefined) return undefined;
  const { session } = found;
  await touchSession(database, session, nowMs);
  const standing = tokenStanding(session, tokenSha256, nowMs);
  if (standing === 'next') await beginNextToken(database, session, nowMs);
  if (standing === 'in use') await renewed(database, context, { session, nowMs });
  return { kind: 'person', ...found };
}

/** The browser takes the next token with this answer; a session of one shift is over before. */
async function renewed(
  database: Database,
  context: Context,
  { session, nowMs }: { session: Session; nowMs: number },
): Promise<void> {
  if (!isRenewalDue(session, nowMs)) return;
  const value = randomToken();
  if (!(await renewSession(database, session, { nextSha256: sha256(value), nowMs }))) return;
  const maxAgeS = Math.floor((session.expiresMs - nowMs) / 1000);
  setCookie(context, 'session', { value, maxAgeS });
}

const tokenPattern = /^barm_([a-z0-9]{8})_([\w-]{43})$/;

/** Looks up the token a device shows in its `Authorization` header, or else in its JSON body. */
export async function findDevice(
  database: Database,
  context: Context,
  nowMs: number,
): Promise<Extract<Caller, { kind: 'device' }> | undefined> {
  const [, id, secret] = tokenPattern.exec(await tokenShown(context)) ?? [];
  if (id === undefined || secret === undefined) return undefined;
  const device = await findDeviceToken(database.query, id);
  if (device === undefined || device.revokedMs !== null) return undefined;
  if (!isSecretOf(device, sha256(secret), nowMs)) return undefined;
  await touchDeviceToken(database, device, nowMs);
  return { kind: 'device', device };
}

function isSecretOf(device: DeviceToken, digest: string, nowMs: number): boolean {
  const { secretSha256, oldSecretSha256, oldUntilMs } = device;
  if (sameDigest(secretSha256, digest)) return true;
  return (
    oldSecretSha256 !== null && nowMs < (oldUntilMs ?? 0) && sameDigest(oldSecretSha256, digest)
  );
}

// Some firmware cannot set a header. Nothing else is read from a body before its sender is known.
async function tokenShown(context: Context): Promise<string> {
  const header = context.req.header('authorization');
  if (header !== undefined) return /^Bearer (\S+)$/.exec(header)?.[1] ?? '';
  const body = await bodyOf(context).catch(() => undefined);
  const token = typeof body === 'object' && body !== null && 'token' in body ? body.token : '';
  return typeof token === 'string' ? token : '';
}

/** Looks up the key in the address of a calendar. */
export async function findFeed(
  database: Database,
  context: Context,
  nowMs: number,
): Promise<Extract<Caller, { kind: 'feed' }> | undefined> {
  const [key, ...others] = context.req.queries('key') ?? [];
  if (key === undefined || others.length > 0) return undefined;
  const account = await accountOfFeedKey(database, sha256(key), nowMs);
  return account && { kind: 'feed', account };
}

/** The request as Node received it; undefined when the app is called without a server. */
export function incomingOf(context: Context): IncomingMessage | undefined {
  return context.env?.incoming;
}

/** Where the request comes from: the other end of the connection, never what a header claims. */
export const addressOf = (context: Context): string | null =>
  incomingOf(context)?.socket.remoteAddress ?? null;
