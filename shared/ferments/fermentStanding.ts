import { apparentAttenuation } from '#shared/science/attenuation.ts';
import type { FermentStanding, FermentState } from '#shared/views/ferments.ts';
import { hourMs } from '../durations.ts';
import type { FermentEvidence } from './fermentEvidence.ts';
import { fermentFlag } from './fermentFlag.ts';
import { generationOf, latestGravity, pitchedMsOf } from './gravities.ts';

/** What comparing a ferment with others has told. */
export type FermentJudgement = Pick<FermentStanding, 'running' | 'halfTimeHours'>;

/** How a ferment stands at a moment, with what was judged of it. */
export function fermentStanding(
  evidence: FermentEvidence,
  nowMs: number,
  { running, halfTimeHours }: FermentJudgement,
): FermentStanding {
  const { record, readings } = evidence;
  const pitchedMs = pitchedMsOf(evidence);
  const latestGravitySg = latestGravity(evidence) ?? null;
  const attenuation =
    latestGravitySg === null
      ? null
      : apparentAttenuation(record.originalGravitySg, latestGravitySg);
  const state = stateOf(evidence);
  return {
    ...evidence,
    id: record.id,
    readings: [...readings],
    state,
    generation: generationOf(evidence),
    hoursSincePitch: pitchedMs === null ? null : (nowMs - pitchedMs) / hourMs,
    latestGravitySg,
    apparentAttenuationPercent: attenuation === null ? null : attenuation * 100,
    halfTimeHours,
    flag: fermentFlag(state, running),
    running,
  };
}

export function stateOf({ rack, chill, pitches }: FermentEvidence): FermentState {
  if (rack !== null) return 'racked';
  if (chill !== null) return 'chilled';
  return pitches.length === 0 ? 'collected' : 'fermenting';
}
