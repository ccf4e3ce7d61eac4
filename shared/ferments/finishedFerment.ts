import type { FermentCurve } from '#shared/science/fermentCurve.ts';
import { pastFermentOf } from '#shared/science/pastFerment.ts';
import type { FermentResult } from '#shared/views/ferments.ts';
import { attenuationReached } from './attenuationReached.ts';
import type { FermentEvidence } from './fermentEvidence.ts';
import type { FermentModels } from './fermentModels.ts';
import { stateOf } from './fermentStanding.ts';
import {
  generationOf,
  latestGravity,
  pitchedMsOf,
  recordedGravities,
  settingOf,
} from './gravities.ts';
import type { PastCandidate } from './housePast.ts';

/** The curve through a ferment that is over; undefined while it runs. */
export function finishedCurve(
  evidence: FermentEvidence,
  models: FermentModels,
): FermentCurve | undefined {
  const pitchedMs = pitchedMsOf(evidence);
  const state = stateOf(evidence);
  if (pitchedMs === null || (state !== 'chilled' && state !== 'racked')) return undefined;
  const readings = recordedGravities(evidence, pitchedMs).map(({ hours, gravitySg }) => ({
    hours,
    gravitySg,
  }));
  return models.curve({ readings, originalGravitySg: evidence.record.originalGravitySg });
}

/** What came of a ferment that is over: its curve, attenuation and strength. */
export function fermentResult(
  evidence: FermentEvidence,
  models: FermentModels,
): FermentResult | null {
  const curve = finishedCurve(evidence, models);
  if (curve === undefined) return null;
  const presentSg = latestGravity(evidence);
  const { originalGravitySg } = evidence.record;
  const reached = presentSg === undefined ? null : attenuationReached(originalGravitySg, presentSg);
  const isFromRacking = evidence.rack?.gravitySg !== undefined;
  return { curve, reached, presentGravityFrom: isFromRacking ? 'racking' : 'the last reading' };
}

/** A finished ferment as one that may set the band; undefined without a fitted curve. */
export function pastCandidate(
  evidence: FermentEvidence,
  models: FermentModels,
): PastCandidate | undefined {
  const curve = finishedCurve(evidence, models);
  const generation = generationOf(evidence);
  if (curve?.kind !== 'fitted' || generation === null) return undefined;
  const ferment = pastFermentOf(curve, settingOf(evidence));
  const isFallen = ferment !== undefined && ferment.endGravitySg < ferment.originalGravitySg;
  return isFallen ? { generation, ferment } : undefined;
}
