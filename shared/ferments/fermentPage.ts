import type { FermentBand } from '#shared/science/fermentBand.ts';
import { type FermentCurve, fittedGravitySg } from '#shared/science/fermentCurve.ts';
import { orderedReadings } from '#shared/science/fermentReadings.ts';
import type { BandPoint, FermentPage, FermentStanding } from '#shared/views/ferments.ts';
import type { FermentEvidence } from './fermentEvidence.ts';
import { fermentJudgement } from './fermentJudgement.ts';
import { fermentStanding } from './fermentStanding.ts';
import { fermentResult } from './finishedFerment.ts';
import { pitchedMsOf, type RecordedGravity, recordedGravities } from './gravities.ts';
import { expectedOf, type FermentView } from './runningCourse.ts';

/** The chart goes on for so long at least, however new the ferment is. */
const leastHours = 72;
const leastHoursApart = 2;
const mostPoints = 120;

/** A ferment as its own page shows it: its standing, the band behind its readings, what came of it. */
export function fermentPage(evidence: FermentEvidence, view: FermentView): FermentPage {
  const standing = fermentStanding(evidence, view.nowMs, fermentJudgement(evidence, view));
  const pitchedMs = pitchedMsOf(evidence);
  if (pitchedMs === null)
    return { ...standing, gravities: [], notes: [], band: null, result: null };
  const gravities = recordedGravities(evidence, pitchedMs);
  const { band, expectation } = expectedOf(evidence, view);
  const result = fermentResult(evidence, view.models);
  const untilHours = lastHour(gravities, standing);
  return {
    ...standing,
    gravities: gravities.map((gravity) => ({
      ...gravity,
      expected: gravity.hours < 0 ? null : band.at(gravity.hours),
      fittedSg: fittedAt(result?.curve, gravity.hours),
    })),
    notes: notesOn(gravities),
    band: { ...expectation, points: bandPoints(band, untilHours, result?.curve) },
    result,
  };
}

const fittedAt = (curve: FermentCurve | undefined, hours: number) =>
  curve?.kind === 'fitted' && hours >= 0 ? fittedGravitySg(curve, hours) : null;

function lastHour(
  gravities: readonly RecordedGravity[],
  { state, hoursSincePitch }: FermentStanding,
): number {
  const now = state === 'fermenting' ? (hoursSincePitch ?? 0) : 0;
  return Math.max(leastHours, now, ...gravities.map(({ hours }) => hours));
}

function bandPoints(
  band: FermentBand,
  untilHours: number,
  curve: FermentCurve | undefined,
): BandPoint[] {
  // A ferment forgotten for months, or a date mistyped, must not make a chart of thousands of points.
  const hoursApart = leastHoursApart * Math.ceil(untilHours / leastHoursApart / mostPoints);
  const count = Math.ceil(untilHours / hoursApart) + 1;
  return Array.from({ length: count }, (_, place) => {
    const hours = place * hoursApart;
    return { hours, ...band.at(hours), fittedSg: fittedAt(curve, hours) };
  });
}

function notesOn(gravities: readonly RecordedGravity[]): FermentPage['notes'] {
  return orderedReadings(gravities).notes.flatMap(({ index, message }) => {
    const recordId = gravities[index]?.recordId;
    return recordId === undefined ? [] : [{ recordId, message }];
  });
}
