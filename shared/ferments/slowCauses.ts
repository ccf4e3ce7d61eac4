import { type Cause, causesToCheck } from '#shared/science/causesToCheck.ts';
import { platoFromSg } from '#shared/science/gravity.ts';
import { hourMs } from '../durations.ts';
import type { FermentEvidence } from './fermentEvidence.ts';
import { expectedRate } from './gravities.ts';

/** Cells counted in the FV up to here are those pitched and not yet those grown; a judgement. */
const countedWithinHours = 6;

const pitchSources = ['counted in the FV', 'reckoned at pitching'] as const;

export type SlowCauses = {
  causes: Cause[];
  /** Where the figure of the viable pitch is from; null when there is none. */
  pitchFrom: (typeof pitchSources)[number] | null;
};

/** What to look into when this ferment is slow, with what the log holds of each. */
export function slowCauses(evidence: FermentEvidence, pitchedMs: number): SlowCauses {
  const { record, readings, pitches, strain } = evidence;
  const viability = pitchedViability(pitches);
  const counted = countedRate(evidence, pitchedMs, viability);
  const rate = counted ?? expectedRate(evidence);
  return {
    causes: causesToCheck({
      ...record,
      viablePitchRatio: rate === undefined ? undefined : rate / strain.rateMillionPerMlPerPlato,
      tempC: readings.findLast(({ tempC }) => tempC !== undefined)?.tempC,
      viability,
      storageDays: longestStore(pitches),
    }),
    pitchFrom:
      counted !== undefined ? pitchSources[0] : rate === undefined ? null : pitchSources[1],
  };
}

/** Living cells found in the FV soon after the pitch [million/mL/°P]. */
function countedRate(
  { record, readings }: FermentEvidence,
  pitchedMs: number,
  viability: number | undefined,
): number | undefined {
  const count = readings.find(({ cellsPerMl, happenedAt }) => {
    const hours = (Date.parse(happenedAt) - pitchedMs) / hourMs;
    return cellsPerMl !== undefined && hours >= 0 && hours <= countedWithinHours;
  });
  if (count?.cellsPerMl === undefined) return undefined;
  return (count.cellsPerMl * (viability ?? 1)) / 1e6 / platoFromSg(record.originalGravitySg);
}

/** Share alive by the last stain before each pitch, by the amounts pitched; undefined if one is unknown. */
function pitchedViability(pitches: FermentEvidence['pitches']): number | undefined {
  let alive = 0;
  let all = 0;
  for (const { viabilityPercent, amountL, amountKg } of pitches) {
    if (viabilityPercent === undefined) return undefined;
    const amount = amountL ?? amountKg ?? 0;
    alive += (amount * viabilityPercent) / 100;
    all += amount;
  }
  return all > 0 ? alive / all : undefined;
}

function longestStore(pitches: FermentEvidence['pitches']): number | undefined {
  const days = pitches.flatMap(({ happenedAt, lotTakenAt }) =>
    lotTakenAt === undefined
      ? []
      : [(Date.parse(happenedAt) - Date.parse(lotTakenAt)) / (24 * hourMs)],
  );
  return days.length === 0 ? undefined : Math.max(...days);
}
