import { type Database, openDatabase } from '#db/database.ts';
import { type Recorded, record } from '#db/journal/journal.ts';
import { migrate } from '#db/migrate.ts';
import { hourMs, minuteMs } from '#shared/durations.ts';
import type { Entry, EntryOf, RecordKind } from '#shared/entries/entry.ts';
import { uuidV7 } from '#shared/uuid.ts';

/** Monday, 2 March 2026, 08:00 UTC: when the small story of the tests begins. */
export const storyStartMs = Date.UTC(2026, 2, 2, 8);

/** An empty log; in memory, or with `LOG_ON=server` on a stand-in for a database server. */
export async function freshDatabase(): Promise<Database> {
  const database = await (process.env.LOG_ON === 'server' ? onServer() : openDatabase(':memory:'));
  await migrate(database, storyStartMs);
  return database;
}

async function onServer(): Promise<Database> {
  const { aRemoteServer } = await import('./remoteServer.ts');
  const { url, token } = await aRemoteServer();
  return openDatabase(url, token);
}

let serial = 0;

/** A version 7 UUID that no other call gives. */
export function nextId(): string {
  serial += 1;
  const bytes = new Uint8Array(10);
  new DataView(bytes.buffer).setUint32(4, serial);
  return uuidV7(storyStartMs + serial, bytes);
}

type Facts<K extends RecordKind> = Omit<EntryOf<K>, 'kind' | 'happenedAt' | 'by'> &
  Partial<Pick<EntryOf<K>, 'happenedAt' | 'by'>>;

export function aBrewery(facts: Partial<Facts<'brewery'>> = {}): EntryOf<'brewery'> {
  return {
    kind: 'brewery',
    happenedAt: at(0),
    by: 'Ines',
    name: 'Wrackstone Harbour Brewery',
    timeZone: 'Europe/London',
    firstGeneration: 0,
    volumeUnit: 'L',
    massUnit: 'kg',
    gravityUnit: 'SG',
    temperatureUnit: '°C',
    budRule: 'half the mother or larger',
    edgeRule: 'top and left in',
    chamberCvPercent: 4.6,
    pipettingCvPercent: 4.7,
    ...facts,
  };
}

export function aStrain(facts: Partial<Facts<'strain'>> = {}): EntryOf<'strain'> {
  return {
    kind: 'strain',
    happenedAt: at(0),
    by: 'Ines',
    name: 'Tern',
    code: 'TN',
    crops: 'top',
    rateMillionPerMlPerPlato: 0.75,
    tempLowC: 15,
    tempHighC: 22,
    maxGenerations: 10,
    maxStorageDays: 4,
    storeLowC: 1,
    storeHighC: 4,
    minViabilityPercent: 90,
    staleCountHours: 24,
    leadTimeDays: 14,
    ...facts,
  };
}

/** A moment of the story, in hours from its start. */
export function at(hours: number): string {
  return new Date(storyStartMs + hours * hourMs).toISOString();
}

/** A log that writes entries at hours of the story, and keeps what was answered. */
export function aLog(database: Database) {
  let receivedMs = 0;
  const write = async (entry: Entry, id = nextId()): Promise<Recorded> => {
    receivedMs = Math.max(receivedMs, Date.parse(entry.happenedAt) + minuteMs);
    const { recorded } = await record(database, id, entry, {
      receivedMs,
      actor: 'local',
      via: 'web',
    });
    return recorded;
  };
  return { database, write };
}

/** Tern in FV1 and FV2: fresh culture, gyle 412 pitched and cropped; the crop not yet used. */
export async function aSmallStory() {
  const log = aLog(await freshDatabase());
  const by = 'Ines';
  const strain = await log.write(aStrain());
  const fv1 = await log.write({ kind: 'vessel', happenedAt: at(0), by, name: 'FV1' });
  const fv2 = await log.write({ kind: 'vessel', happenedAt: at(0), by, name: 'FV2' });
  const fresh = await log.write({
    kind: 'freshCulture',
    happenedAt: at(0),
    by,
    strainId: strain.id,
    origin: 'bought',
    generation: 0,
    amountL: 20,
  });
  const ferment = await log.write(aFerment({ vesselId: fv1.id, strainId: strain.id }));
  const pitch = await log.write({
    kind: 'pitch',
    happenedAt: at(2),
    by,
    fermentId: ferment.id,
    lotId: fresh.id,
    amountL: 11,
  });
  const crop = await log.write({
    kind: 'crop',
    happenedAt: at(44),
    by,
    fermentId: ferment.id,
    cut: 'skim 2',
    amountKg: 10,
  });
  return { ...log, strain, fv1, fv2, fresh, ferment, pitch, crop };
}

export function aFerment(
  facts: Partial<Facts<'ferment'>> & Pick<EntryOf<'ferment'>, 'vesselId' | 'strainId'>,
): EntryOf<'ferment'> {
  return {
    kind: 'ferment',
    happenedAt: at(1),
    by: 'Ines',
    gyle: '412',
    beer: 'Headland Bitter',
    volumeL: 1636.59,
    originalGravitySg: 1.04,
    ...facts,
  };
}
