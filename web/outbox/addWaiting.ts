import type { Entry, EntryOf, RecordKind } from '#shared/entries/entry.ts';
import { lotStanding } from '#shared/lots/lotStanding.ts';
import { apparentAttenuation } from '#shared/science/attenuation.ts';
import { CHAMBER_CV, PIPETTING_CV } from '#shared/science/countSetup.ts';
import { keyOfNamed } from '#shared/sites/site.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { Setup } from '#shared/views/setup.ts';
import type { WaitingEntry } from './waitingEntry.ts';

type Standings = { lots: LotStanding[]; ferments: FermentStanding[] };
type Told = Standings & { setup: Setup };

/** What the log last told, with what waits on this device added by the log's own rules. */
export function addWaiting(told: Told, queue: readonly WaitingEntry[], nowMs: number): Standings {
  const cropped = recordsOf('crop', queue).flatMap((crop) => croppedLot(crop, told, queue, nowMs));
  const lots = [...cropped, ...told.lots].map((lot) => lessUsed(lot, queue));
  const collected = recordsOf('ferment', queue).flatMap((record) => gyle(record, told));
  const ferments = [...collected, ...told.ferments].map((ferment) => grown(ferment, lots, queue));
  return { lots, ferments };
}

/** The new records of a kind that wait; each has its place in the queue for its number. */
function recordsOf<K extends RecordKind>(kind: K, queue: readonly WaitingEntry[]): Recorded<K>[] {
  return queue.flatMap(({ id, seq, entry, madeMs }) => {
    if (entry.supersedes !== undefined || !isOf(kind, entry)) return [];
    const receivedAt = new Date(madeMs).toISOString();
    return [{ ...entry, id, entryId: id, seq, receivedAt, corrected: false }];
  });
}

const isOf = <K extends RecordKind>(kind: K, entry: Entry): entry is EntryOf<K> =>
  entry.kind === kind;

const aboutLot = <T extends { lotId: string }>(records: readonly T[], id: string) =>
  records.filter(({ lotId }) => lotId === id);

function croppedLot(
  record: Recorded<'crop'>,
  { lots, ferments, setup }: Told,
  queue: readonly WaitingEntry[],
  nowMs: number,
): LotStanding[] {
  const ferment = ferments.find(({ id }) => id === record.fermentId);
  if (ferment === undefined) return [];
  const { strain, record: brew } = ferment;
  const { id, happenedAt, amountL = null, amountKg = null } = record;
  const parent = lots.find((lot) => ferment.pitches.some(({ lotId }) => lotId === lot.id));
  const row = {
    id,
    kind: 'crop' as const,
    code: record.code ?? `${strain.code}-${brew.gyle}…`,
    siteId: ferment.siteId,
    strainId: strain.id,
    lineId: parent?.lineId ?? '',
    generation: (ferment.generation ?? 0) + 1,
    timesPitched: 0,
    happenedMs: Date.parse(happenedAt),
    amountL,
    amountKg,
    leftL: amountL,
    leftKg: amountKg,
    fromFerment: { id: ferment.id, gyle: brew.gyle, beer: brew.beer },
  };
  const evidence = {
    row,
    record,
    strain,
    counts: aboutLot(recordsOf('count', queue), id),
    stains: aboutLot(recordsOf('stain', queue), id),
    storeReadings: aboutLot(recordsOf('storeReading', queue), id),
    checks: aboutLot(recordsOf('microCheck', queue), id),
    results: recordsOf('microResult', queue),
    holds: aboutLot(recordsOf('hold', queue), id),
    releases: aboutLot(recordsOf('release', queue), id),
  };
  return [lotStanding(evidence, countErrors(setup), nowMs)];
}

function countErrors({ brewery }: Setup) {
  return brewery === null
    ? { chamberCv: CHAMBER_CV, pipettingCv: PIPETTING_CV }
    : {
        chamberCv: brewery.chamberCvPercent / 100,
        pipettingCv: brewery.pipettingCvPercent / 100,
      };
}

type AboutLot = Pick<EntryOf<'pitch' | 'discard' | 'transfer'>, 'lotId' | 'amountL' | 'amountKg'>;

function lessUsed(lot: LotStanding, queue: readonly WaitingEntry[]): LotStanding {
  const taken = (['pitch', 'discard', 'transfer'] as const).flatMap((kind) =>
    aboutLot<AboutLot>(recordsOf(kind, queue), lot.id),
  );
  const used = taken.reduce((sum, { amountL, amountKg }) => sum + (amountL ?? amountKg ?? 0), 0);
  return used === 0 ? lot : { ...lot, left: Math.max(0, lot.left - used) };
}

function gyle(record: Recorded<'ferment'>, { setup }: Told): FermentStanding[] {
  const strain = setup.strains.find(({ id }) => id === record.strainId);
  const vessel = setup.vessels.find(({ id }) => id === record.vesselId);
  if (strain === undefined || vessel === undefined) return [];
  return [
    {
      id: record.id,
      record,
      siteId: keyOfNamed(vessel.siteId, setup.homeId),
      vessel: vessel.name,
      strain,
      state: 'collected',
      pitches: [],
      readings: [],
      crops: [],
      chill: null,
      rack: null,
      generation: null,
      hoursSincePitch: null,
      latestGravitySg: null,
      apparentAttenuationPercent: null,
      halfTimeHours: null,
      flag: { status: 'too early', why: 'Not pitched yet.' },
      running: null,
    },
  ];
}

/** A ferment with the pitches, readings and crops that wait; its flag waits for the log. */
function grown(
  ferment: FermentStanding,
  lots: readonly LotStanding[],
  queue: readonly WaitingEntry[],
): FermentStanding {
  const ours = <T extends { fermentId: string }>(records: readonly T[]) =>
    records.filter(({ fermentId }) => fermentId === ferment.id);
  const readings = ours(recordsOf('reading', queue));
  const crops = ours(recordsOf('crop', queue)).map(({ id, code = '', cut, happenedAt }) => ({
    lotId: id,
    code,
    cut,
    at: happenedAt,
  }));
  const pitches = ours(recordsOf('pitch', queue)).map((pitch) => {
    const lot = lots.find(({ id }) => id === pitch.lotId);
    return { ...pitch, lotCode: lot?.code ?? '', generation: lot?.generation ?? 0 };
  });
  const chill = ferment.chill ?? ours(recordsOf('chill', queue))[0] ?? null;
  const rack = ferment.rack ?? ours(recordsOf('rack', queue))[0] ?? null;
  const known = [...ferment.pitches, ...pitches];
  const latestGravitySg =
    rack?.gravitySg ??
    readings.findLast(({ gravitySg }) => gravitySg !== undefined)?.gravitySg ??
    ferment.latestGravitySg;
  return {
    ...ferment,
    ...stateWith({ rack, chill, pitches: known }, ferment),
    pitches: known,
    readings: [...ferment.readings, ...readings],
    crops: [...ferment.crops, ...crops],
    chill,
    rack,
    latestGravitySg,
    apparentAttenuationPercent:
      latestGravitySg === null
        ? null
        : 100 * apparentAttenuation(ferment.record.originalGravitySg, latestGravitySg),
  };
}

function stateWith(
  { rack, chill, pitches }: Pick<FermentStanding, 'rack' | 'chill' | 'pitches'>,
  { state, generation }: FermentStanding,
): Pick<FermentStanding, 'state' | 'generation'> {
  const highest = Math.max(generation ?? 0, ...pitches.map((pitch) => pitch.generation));
  const pitched = { state, generation: pitches.length === 0 ? null : highest };
  if (rack !== null) return { ...pitched, state: 'racked' };
  if (chill !== null) return { ...pitched, state: 'chilled' };
  return state === 'collected' && pitches.length > 0
    ? { ...pitched, state: 'fermenting' }
    : pitched;
}
