import type { InStatement } from '@libsql/client';
import { desc } from 'drizzle-orm';
import { dayMs } from '#shared/durations.ts';
import type { Query } from '../database.ts';
import { securityEvent } from '../schema/index.ts';

/** Something about access that may matter later; never a password, a code or a token. */
export type SecurityEvent = {
  atMs: number;
  what:
    | 'first account'
    | 'signed in'
    | 'sign-in failed'
    | 'signed out'
    | 'session ended'
    | 'password set'
    | 'account made'
    | 'account changed'
    | 'code issued'
    | 'device token made'
    | 'device token renewed'
    | 'device token revoked'
    | 'feed key made'
    | 'feed key revoked'
    | 'refused';
  userName: string | null;
  address: string | null;
  detail?: string;
};

const keptMs = 400 * dayMs;

export function securityEventStatement(event: SecurityEvent): InStatement {
  return {
    sql: 'INSERT INTO security_event (at_ms, what, user_name, address, detail) VALUES (?, ?, ?, ?, ?)',
    args: [
      event.atMs,
      event.what,
      event.userName?.slice(0, 80) ?? null,
      event.address?.slice(0, 64) ?? null,
      event.detail?.slice(0, 200) ?? null,
    ],
  };
}

/** What is older than 400 days is forgotten. */
export const forgetOldEvents = (nowMs: number): InStatement => ({
  sql: 'DELETE FROM security_event WHERE at_ms < ?',
  args: [nowMs - keptMs],
});

export async function listSecurityEvents(query: Query, limit: number) {
  return query.select().from(securityEvent).orderBy(desc(securityEvent.seq)).limit(limit);
}
