import { unpitched } from '#shared/ferments/unpitched.ts';
import { localDay } from '#shared/localDay.ts';
import { brewedAs } from '#shared/plan/demand.ts';
import { apparentAttenuation } from '#shared/science/attenuation.ts';
import { keyOfNamed } from '#shared/sites/site.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { Setup } from '#shared/views/setup.ts';
import type { WaitingEntry } from './waitingEntry.ts';
import { lessUsed, lotsMade } from './waitingLots.ts';
import { recordsOf } from './waitingRecords.ts';

type Standings = { lots: LotStanding[]; ferments: FermentStanding[] };
type Told = Standings & { setup: Setup };

/** What the log last told, with what waits on this device added by the log's own rules. */
export function addWaiting(told: Told, queue: readonly WaitingEntry[], nowMs: number): Standings {
  const made = lotsMade(told, queue, nowMs);
  const lots = [...made, ...told.lots].map((lot) => lessUsed(lot, queue));
  const collected = recordsOf('ferment', queue).flatMap((record) => gyle(record, told));
  const ferments = [...collected, ...told.ferments].map((ferment) => grown(ferment, lots, queue));
  return { lots, ferments };
}

/** The set-up without the planned brews that a gyle which waits carries out. */
export function lessCollected(setup: Setup, queue: readonly WaitingEntry[]): Setup {
  const gyles = recordsOf('ferment', queue).map((record) => ({ id: record.id, record }));
  const dayOf = localDay(setup.brewery?.timeZone ?? 'UTC');
  const brewed = brewedAs([...setup.notBrewed, ...setup.plannedBrews], gyles, dayOf);
  const isLeft = ({ id }: { id: string }) => !brewed.has(id);
  return {
    ...setup,
    plannedBrews: setup.plannedBrews.filter(isLeft),
    notBrewed: setup.notBrewed.filter(isLeft),
  };
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
      flag: unpitched,
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
  const flag = ferment.pitches.length === 0 && pitches.length > 0 ? courseUntold : ferment.flag;
  return {
    ...ferment,
    flag,
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

const courseUntold = {
  status: 'too early',
  why: 'Its pitch waits on this device: its course is told once that is sent.',
} as const;

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
