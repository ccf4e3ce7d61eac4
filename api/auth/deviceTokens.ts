import { Hono } from 'hono';
import { sha256 } from '#db/journal/hash.ts';
import {
  createDeviceToken,
  listDeviceTokens,
  renewDeviceToken,
  revokeDeviceToken,
} from '#db/people/deviceTokens.ts';
import { type DeviceTokenView, newDeviceToken } from '#shared/people.ts';
import type { Services } from '../context.ts';
import { jsonBody } from '../validate.ts';
import { iso, isoOrNull } from './account.ts';
import { personOf } from './caller.ts';
import { eventBy } from './eventBy.ts';
import { randomToken, randomTokenId } from './secrets.ts';

/** What sensors post their readings with: made and revoked by a head brewer, shown once. */
export function deviceTokenRoutes({ database, now }: Services) {
  return new Hono()
    .get('/device-tokens', async (context) => {
      const rows = await listDeviceTokens(database.query);
      const items = rows.map(
        (row): DeviceTokenView => ({
          id: row.id,
          sensor: row.sensor,
          vesselId: row.vesselId,
          vessel: row.vessel,
          siteId: row.siteId,
          made: iso(row.createdMs),
          lastUsed: isoOrNull(row.lastUsedMs),
          revoked: isoOrNull(row.revokedMs),
          oldUntil: (row.oldUntilMs ?? 0) > now() ? isoOrNull(row.oldUntilMs) : null,
        }),
      );
      return context.json({ items }, 200);
    })
    .post('/device-tokens', jsonBody(newDeviceToken), async (context) => {
      const { sensor, vesselId } = context.req.valid('json');
      const id = randomTokenId();
      const secret = randomToken();
      await createDeviceToken(
        database,
        {
          id,
          sensor,
          vesselId: vesselId ?? null,
          secretSha256: sha256(secret),
          createdBy: personOf(context).account.id,
          createdMs: now(),
        },
        eventBy(context, now(), 'device token made', `${id}: ${sensor}`),
      );
      return context.json({ id, token: tokenOf(id, secret) }, 201);
    })
    .post('/device-tokens/:id/renewals', async (context) => {
      const id = context.req.param('id');
      const secret = randomToken();
      const oldUntilMs = await renewDeviceToken(
        database,
        { id, secretSha256: sha256(secret) },
        eventBy(context, now(), 'device token renewed', id.slice(0, 8)),
      );
      return context.json({ id, token: tokenOf(id, secret), oldUntil: iso(oldUntilMs) }, 201);
    })
    .delete('/device-tokens/:id', async (context) => {
      const id = context.req.param('id');
      await revokeDeviceToken(
        database,
        id,
        eventBy(context, now(), 'device token revoked', id.slice(0, 8)),
      );
      return context.json({ revoked: true }, 200);
    });
}

const tokenOf = (id: string, secret: string) => `barm_${id}_${secret}`;
