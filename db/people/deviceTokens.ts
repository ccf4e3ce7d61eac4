import { asc, eq } from 'drizzle-orm';
import { dayMs, minuteMs } from '#shared/durations.ts';
import { DomainError } from '#shared/errors.ts';
import type { SiteKey } from '#shared/sites/site.ts';
import type { Database, Query } from '../database.ts';
import { deviceToken, vessel } from '../schema/index.ts';
import { type SecurityEvent, securityEventStatement } from './securityEvents.ts';

export type DeviceToken = typeof deviceToken.$inferSelect;

const usedEveryMs = minuteMs;

/** Every token, revoked ones too, each with the FV it is bound to. */
export async function listDeviceTokens(
  query: Query,
): Promise<(DeviceToken & { vessel: string | null; siteId: SiteKey })[]> {
  const rows = await query
    .select({ token: deviceToken, vessel: vessel.name, siteId: vessel.siteId })
    .from(deviceToken)
    .leftJoin(vessel, eq(vessel.id, deviceToken.vesselId))
    .orderBy(asc(deviceToken.createdMs));
  return rows.map((row) => ({ ...row.token, vessel: row.vessel, siteId: row.siteId }));
}

export async function findDeviceToken(query: Query, id: string): Promise<DeviceToken | undefined> {
  const [row] = await query.select().from(deviceToken).where(eq(deviceToken.id, id));
  return row;
}

/** @throws DomainError `invalid` when there is no such FV */
export async function createDeviceToken(
  database: Database,
  token: Omit<DeviceToken, 'lastUsedMs' | 'revokedMs' | 'oldSecretSha256' | 'oldUntilMs'>,
  event: SecurityEvent,
): Promise<void> {
  await database.alone(async (write) => {
    if (token.vesselId !== null && !(await hasVessel(database.query, token.vesselId)))
      throw new DomainError('invalid', 'There is no such FV.', [
        { path: 'vesselId', message: 'Choose an FV of the brewery' },
      ]);
    await write([
      {
        sql: `INSERT INTO device_token (id, sensor, vessel_id, secret_sha256, created_by, created_ms)
              VALUES (?, ?, ?, ?, ?, ?)`,
        args: [
          token.id,
          token.sensor,
          token.vesselId,
          token.secretSha256,
          token.createdBy,
          token.createdMs,
        ],
      },
      securityEventStatement(event),
    ]);
  });
}

async function hasVessel(query: Query, id: string): Promise<boolean> {
  return (await query.$count(vessel, eq(vessel.id, id))) > 0;
}

/** How long a sensor has to be given its new token. */
const overlapMs = dayMs;

/**
 * Gives a token another secret; the one before stays good for a day.
 * @returns until when it does [ms]
 * @throws DomainError `not_found`, or `conflict` for a token that was revoked
 */
export async function renewDeviceToken(
  database: Database,
  { id, secretSha256 }: Pick<DeviceToken, 'id' | 'secretSha256'>,
  event: SecurityEvent,
): Promise<number> {
  const token = await findDeviceToken(database.query, id);
  if (token === undefined) throw new DomainError('not_found', 'There is no such device token.');
  if (token.revokedMs !== null)
    throw new DomainError('conflict', 'This token is revoked: make a new one.');
  const oldUntilMs = event.atMs + overlapMs;
  await database.write([
    {
      sql: `UPDATE device_token SET old_secret_sha256 = secret_sha256, old_until_ms = ?, secret_sha256 = ?
            WHERE id = ? AND revoked_ms IS NULL`,
      args: [oldUntilMs, secretSha256, id],
    },
    securityEventStatement(event),
  ]);
  return oldUntilMs;
}

export async function revokeDeviceToken(
  database: Database,
  id: string,
  event: SecurityEvent,
): Promise<void> {
  if ((await findDeviceToken(database.query, id)) === undefined)
    throw new DomainError('not_found', 'There is no such device token.');
  await database.write([
    {
      sql: 'UPDATE device_token SET revoked_ms = ? WHERE id = ? AND revoked_ms IS NULL',
      args: [event.atMs, id],
    },
    securityEventStatement(event),
  ]);
}

/** Notes that a token was used, at most once a minute. */
export async function touchDeviceToken(
  database: Database,
  { id, lastUsedMs }: DeviceToken,
  nowMs: number,
): Promise<void> {
  if (lastUsedMs !== null && Math.abs(nowMs - lastUsedMs) < usedEveryMs) return;
  await database
    .write([{ sql: 'UPDATE device_token SET last_used_ms = ? WHERE id = ?', args: [nowMs, id] }])
    // Where nothing can be written, the reading itself will say so.
    .catch(() => undefined);
}
