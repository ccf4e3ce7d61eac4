import type { GravityReading } from '#shared/science/fermentReadings.ts';
import { platoFromSg } from '#shared/science/gravity.ts';
import type { FermentSetting } from '#shared/science/housePace.ts';
import { hourMs } from '../durations.ts';
import type { FermentEvidence } from './fermentEvidence.ts';

/** A gravity in hours from the first pitch, with the reading or racking it was written down in. */
export type RecordedGravity = GravityReading & { recordId: string };

export function pitchedMsOf({ pitches }: Pick<FermentEvidence, 'pitches'>): number | null {
  if (pitches.length === 0) return null;
  return Math.min(...pitches.map(({ happenedAt }) => Date.parse(happenedAt)));
}

/** Generation of the yeast in a ferment: the highest pitched. */
export function generationOf({ pitches }: Pick<FermentEvidence, 'pitches'>): number | null {
  return pitches.length === 0 ? null : Math.max(...pitches.map(({ generation }) => generation));
}

/** Every gravity written down after collecting, as it stands in the log; also what came before the pitch. */
export function recordedGravities(
  { readings, rack }: Pick<FermentEvidence, 'readings' | 'rack'>,
  pitchedMs: number,
): RecordedGravity[] {
  return [...readings, ...(rack === null ? [] : [rack])].flatMap((record) =>
    record.gravitySg === undefined
      ? []
      : [
          {
            recordId: record.id,
            hours: (Date.parse(record.happenedAt) - pitchedMs) / hourMs,
            gravitySg: record.gravitySg,
          },
        ],
  );
}

/** The gravity at racking where it was read, else the last reading. */
export function latestGravity({
  readings,
  rack,
}: Pick<FermentEvidence, 'readings' | 'rack'>): number | undefined {
  if (rack?.gravitySg !== undefined) return rack.gravitySg;
  return readings
    .toSorted((a, b) => Date.parse(a.happenedAt) - Date.parse(b.happenedAt))
    .findLast(({ gravitySg }) => gravitySg !== undefined)?.gravitySg;
}

/** What pace depends on, as far as it was written down. */
export function settingOf(evidence: Pick<FermentEvidence, 'record' | 'pitches'>): FermentSetting {
  const { beer, originalGravitySg, setTempC } = evidence.record;
  return {
    beer,
    originalGravitySg,
    setTempC,
    pitchRateMillionPerMlPerPlato: expectedRate(evidence),
  };
}

/** Living cells expected at pitching [million/mL/°P]; undefined unless every pitch says. */
export function expectedRate({
  record,
  pitches,
}: Pick<FermentEvidence, 'record' | 'pitches'>): number | undefined {
  let cells = 0;
  for (const { expectedViableCells } of pitches) {
    if (expectedViableCells === undefined) return undefined;
    cells += expectedViableCells;
  }
  const rate = cells / (record.volumeL * 1000) / platoFromSg(record.originalGravitySg) / 1e6;
  return rate > 0 ? rate : undefined;
}
