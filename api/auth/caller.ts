import type { IncomingMessage } from 'node:http';
import type { Context } from 'hono';
import type { Account } from '#db/accounts.ts';
import type { Database } from '#db/database.ts';
import { type DeviceToken, findDeviceToken, touchDeviceToken } from '#db/deviceTokens.ts';
import { accountOfFeedKey } from '#db/feedKeys.ts';
import { sha256 } from '#db/hash.ts';
import { findSession, type Session, touchSession } from '#db/sessions.ts';
import { RequestError } from '../problem.ts';
import { cookieOf } from './cookies.ts';
import { sameDigest } from './secrets.ts';

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

/** Looks the session of a request up, and notes that it was used. */
export async function findPerson(
  database: Database,
  context: Context,
  nowMs: number,
): Promise<PersonCaller | undefined> {
  const token = cookieOf(context, 'session');
  if (token === undefined) return undefined;
  const found = await findSession(database.query, sha256(token), nowMs);
  if (found === undefined) return undefined;
  await touchSession(database, found.session, nowMs);
  return { kind: 'person', ...found };
}

const bearerPattern = /^Bearer barm_([a-z0-9]{8})_([\w-]{43})$/;

/** Looks up the token a device shows in its `Authorization` header. */
export async function findDevice(
  database: Database,
  context: Context,
  nowMs: number,
): Promise<Extract<Caller, { kind: 'device' }> | undefined> {
  const [, id, secret] = bearerPattern.exec(context.req.header('authorization') ?? '') ?? [];
  if (id === undefined || secret === undefined) return undefined;
  const device = await findDeviceToken(database.query, id);
  if (device === undefined || device.revokedMs !== null) return undefined;
  if (!sameDigest(device.secretSha256, sha256(secret))) return undefined;
  await touchDeviceToken(database, device, nowMs);
  return { kind: 'device', device };
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
