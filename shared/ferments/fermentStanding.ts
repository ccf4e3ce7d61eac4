import { apparentAttenuation } from '#shared/science/attenuation.ts';
import { crossingHours } from '#shared/science/crossingTimes.ts';
import type { FermentStanding, FermentState, Recorded, StrainView } from '#shared/views.ts';
import { fermentFlag } from './fermentFlag.ts';

export type FermentEvidence = {
  record: Recorded<'ferment'>;
  vessel: string;
  strain: StrainView;
  pitches: FermentStanding['pitches'];
  readings: readonly Recorded<'reading'>[];
  crops: FermentStanding['crops'];
  chill: Recorded<'chill'> | null;
  rack: Recorded<'rack'> | null;
};

const msPerHour = 3_600_000;

/** How a ferment stands at a moment. */
export function fermentStanding(evidence: FermentEvidence, nowMs: number): FermentStanding {
  const { record, pitches, readings, chill, rack } = evidence;
  const pitchedMs =
    pitches.length === 0 ? null : Math.min(...pitches.map((pitch) => Date.parse(pitch.happenedAt)));
  const points = gravityPoints(evidence, pitchedMs);
  const latestGravitySg = rack?.gravitySg ?? points.at(-1)?.gravitySg ?? null;
  const attenuation =
    latestGravitySg === null
      ? null
      : apparentAttenuation(record.originalGravitySg, latestGravitySg);
  const state = stateOf(pitchedMs, chill, rack);
  const isOver = state === 'racked' || state === 'chilled';
  const halfSg = latestGravitySg === null ? null : (record.originalGravitySg + latestGravitySg) / 2;
  return {
    ...evidence,
    id: record.id,
    readings: [...readings],
    state,
    generation: pitches.length === 0 ? null : Math.max(...pitches.map((pitch) => pitch.generation)),
    hoursSincePitch: pitchedMs === null ? null : (nowMs - pitchedMs) / msPerHour,
    latestGravitySg,
    apparentAttenuationPercent: attenuation === null ? null : attenuation * 100,
    halfTimeHours: isOver && halfSg !== null ? (crossingHours(points, halfSg) ?? null) : null,
    flag: fermentFlag({
      state,
      points,
      originalGravitySg: record.originalGravitySg,
      pitchedMs,
      nowMs,
    }),
  };
}

/** Gravities in hours from pitching, the original gravity at 0, in order of time. */
export function gravityPoints(
  { record, readings, rack }: Pick<FermentEvidence, 'record' | 'readings' | 'rack'>,
  pitchedMs: number | null,
): { hours: number; gravitySg: number }[] {
  if (pitchedMs === null) return [];
  const measured = [...readings, ...(rack === null ? [] : [rack])].flatMap((reading) =>
    reading.gravitySg === undefined
      ? []
      : [
          {
            hours: (Date.parse(reading.happenedAt) - pitchedMs) / msPerHour,
            gravitySg: reading.gravitySg,
          },
        ],
  );
  return [
    { hours: 0, gravitySg: record.originalGravitySg },
    ...measured.filter((point) => point.hours > 0).sort((a, b) => a.hours - b.hours),
  ];
}

function stateOf(
  pitchedMs: number | null,
  chill: Recorded<'chill'> | null,
  rack: Recorded<'rack'> | null,
): FermentState {
  if (rack !== null) return 'racked';
  if (chill !== null) return 'chilled';
  return pitchedMs === null ? 'collected' : 'fermenting';
}
