import { Hono } from 'hono';
import type { Query } from '#db/database.ts';
import { sha256 } from '#db/journal/hash.ts';
import { record } from '#db/journal/journal.ts';
import type { DeviceToken } from '#db/people/deviceTokens.ts';
import { fermentIn, vesselsNamed } from '#db/reads/ferments.ts';
import { listSites } from '#db/sites/sites.ts';
import { entry as entrySchema } from '#shared/entries/entry.ts';
import { DomainError, type FieldError } from '#shared/errors.ts';
import { parsed } from '#shared/parsed.ts';
import { measuredBy, type SensorReading, sensorPost } from '#shared/sensorReadings.ts';
import { type SiteKey, siteKey } from '#shared/sites/site.ts';
import { uuidV7 } from '#shared/uuid.ts';
import { jsonSchema, type RouteDoc } from './apiDocument.ts';
import { deviceOf } from './auth/caller.ts';
import type { Services } from './context.ts';
import { jsonBody } from './validate.ts';

type Outcome =
  | { id: string; isNew: boolean; warnings: readonly string[] }
  | { code: string; detail: string; errors: readonly FieldError[] };

export function sensorRoutes(services: Services) {
  return new Hono().post('/readings', jsonBody(sensorPost), async (context) => {
    const device = deviceOf(context);
    const given = context.req.valid('json');
    const take = (reading: SensorReading) =>
      taken(services, device, reading).catch((error: unknown) => {
        throw inItsWords(error, reading);
      });
    if (!('readings' in given)) return context.json({ items: [await take(given)] }, 200);
    const items: Outcome[] = [];
    for (const reading of given.readings) items.push(await take(reading).catch(refusalOf));
    return context.json({ items }, 200);
  });
}

/** What the log refuses of an entry, by the names of the fields the sensor sent. */
function inItsWords(error: unknown, { ageS }: SensorReading): unknown {
  if (!(error instanceof DomainError)) return error;
  const names: Record<string, string> = {
    happenedAt: ageS === undefined ? 'at' : 'ageS',
    gravitySg: 'gravity',
    tempC: 'temperature',
    fermentId: 'vessel',
  };
  const errors = error.errors.map(({ path, message }) => ({ path: names[path] ?? path, message }));
  return new DomainError(error.code, error.message, errors);
}

/** One bad reading does not hold the others of a batch up. */
function refusalOf(error: unknown): Outcome {
  if (!(error instanceof DomainError) || (error.code !== 'invalid' && error.code !== 'conflict'))
    throw error;
  return { code: error.code, detail: error.message, errors: error.errors };
}

async function taken(
  { database, now }: Services,
  device: DeviceToken,
  reading: SensorReading,
): Promise<Outcome> {
  const nowMs = now();
  const atMs =
    reading.at === undefined ? nowMs - (reading.ageS ?? 0) * 1000 : Date.parse(reading.at);
  const read = measuredBy(reading);
  if ('path' in read) throw refusal(read.path, read.message);
  const fermentId = await fermentIn(
    database.query,
    await vesselOf(database, device, reading),
    atMs,
  );
  if (fermentId === undefined) throw refusal('vessel', 'The FV held no gyle then');
  const entry = parsed(entrySchema, {
    kind: 'reading',
    happenedAt: new Date(atMs).toISOString(),
    by: device.sensor,
    fermentId,
    ...read.measured,
  });
  const id = idOf(device, reading, atMs);
  const source = { receivedMs: nowMs, actor: `device ${device.id}`, via: 'device' } as const;
  try {
    const { recorded, isReplay } = await record(database, id, entry, source);
    return { id, isNew: !isReplay, warnings: recorded.warnings };
  } catch (error) {
    // Told by its age a reading comes out a little different each time: its key says it is the same.
    if (reading.key === undefined || !isConflict(error)) throw error;
    return { id, isNew: false, warnings: [] };
  }
}

const isConflict = (error: unknown) => error instanceof DomainError && error.code === 'conflict';

/** The same from the same sensor, so that what it sends twice is written once. */
function idOf(device: DeviceToken, { key }: SensorReading, atMs: number): string {
  const digest = Buffer.from(sha256(`${device.id} ${key ?? atMs}`), 'hex');
  return uuidV7(key === undefined ? atMs : 0, digest);
}

async function vesselOf(
  { query }: Services['database'],
  { vesselId }: DeviceToken,
  { vessel, site }: SensorReading,
): Promise<string> {
  if (vessel === undefined) {
    if (vesselId === null) throw refusal('vessel', 'Name the FV: this token is not for one alone');
    return vesselId;
  }
  const called = await vesselsNamed(query, vessel);
  const there = site === undefined ? called : await atSiteCalled(query, site, called);
  const [named, ...others] = there;
  if (named === undefined) throw refusal('vessel', `There is no FV called ${vessel}`);
  if (vesselId !== null) {
    if (there.some(({ id }) => id === vesselId)) return vesselId;
    throw refusal('vessel', 'This token is for another FV');
  }
  if (others.length > 0)
    throw refusal('site', `More than one site has an FV called ${vessel}: name the site too`);
  return named.id;
}

async function atSiteCalled<T extends { siteId: SiteKey }>(
  query: Query,
  site: string,
  vessels: readonly T[],
): Promise<T[]> {
  const wanted = site.trim().toLowerCase();
  const found = (await listSites(query)).find(({ name, code }) =>
    [name, code].some((each) => each.toLowerCase() === wanted),
  );
  if (found === undefined) throw refusal('site', `There is no site called ${site}`);
  return vessels.filter(({ siteId }) => siteId === siteKey(found));
}

const refusal = (path: string, message: string) =>
  new DomainError('invalid', `${message}.`, [{ path, message }]);

export const sensorDocs: readonly RouteDoc[] = [
  {
    method: 'post',
    path: '/api/readings',
    tag: 'In and out',
    who: 'device',
    summary: 'Readings from a sensor, one or several, with the units they are in',
    description:
      'Shown with a device token: `Authorization: Bearer …`, or, where no header can be set, as `token` in the body; never in the address. A reading belongs to the gyle that was in the FV then; where two sites have an FV of that name, `site` tells which by its name or code. The same `key` again, or without one the same moment, writes nothing; so a sensor may send anew what it does not know to have arrived. In a batch each reading stands for itself.',
    request: jsonSchema(sensorPost),
    example: {
      readings: [
        {
          vessel: 'FV3',
          at: '2026-03-01T09:30:00Z',
          gravity: { value: 1021.5, unit: 'sg' },
          temperature: { value: 20.4, unit: '°C' },
        },
      ],
    },
    answers: {
      200: {
        description:
          '`items`, one for each reading: `id`, `isNew`, `warnings`; or `code`, `detail`, `errors` where it was refused',
      },
    },
  },
];
