import type { FermentBand } from '#shared/science/fermentBand.ts';
import { excessDegreesFromSg, sgFromExcessDegrees } from '#shared/science/gravity.ts';
import { assessRunning } from '#shared/science/slowFerment.ts';
import type { FermentExpectation, RunningCourse } from '#shared/views/ferments.ts';
import { hourMs } from '../durations.ts';
import type { FermentEvidence } from './fermentEvidence.ts';
import type { BandQuestion, FermentModels } from './fermentModels.ts';
import { generationOf, recordedGravities, settingOf } from './gravities.ts';
import type { HousePast, PastCandidate } from './housePast.ts';
import { slowCauses } from './slowCauses.ts';

/** What a ferment is seen against: the moment, the finished ferments before it, and the sums. */
export type FermentView = {
  nowMs: number;
  past: readonly PastCandidate[];
  models: FermentModels;
};

/** Cask beer is racked with about 0.75 °P, 3 degrees, left to ferment. Source: [BoultonQuain2001], 6.8. */
const rackedAboveEndDegrees = 3;

/** How a running ferment goes against the band of its strain. */
export function runningCourse(
  evidence: FermentEvidence,
  pitchedMs: number,
  view: FermentView,
): RunningCourse {
  const { question, band, expectation } = expectedOf(evidence, view);
  const rackingGravitySg = rackingGravity(band);
  const readings = recordedGravities(evidence, pitchedMs);
  // A pitch entered ahead of its time has not begun yet.
  const nowHours = Math.max(0, (view.nowMs - pitchedMs) / hourMs);
  const line = view.models.line(question);
  const lastHours = Math.max(0, ...readings.map(({ hours }) => hours));
  return {
    ...assessRunning({ readings, band, nowHours, rackingGravitySg, line }),
    ...slowCauses(evidence, pitchedMs),
    rackingGravitySg,
    expectation,
    hoursUnread: Math.max(0, nowHours - lastHours),
  };
}

/** The band a ferment is held to, and what it rests on. */
export function expectedOf(
  evidence: FermentEvidence,
  { past: candidates, models }: Omit<FermentView, 'nowMs'>,
): { question: BandQuestion; band: FermentBand; expectation: FermentExpectation } {
  const past = models.past({ candidates, generation: generationOf(evidence) ?? 0 });
  const question = { past: past.ferments, target: settingOf(evidence) };
  const band = models.band(question);
  return { question, band, expectation: expectationOf(evidence, band, past) };
}

function expectationOf(
  { record }: FermentEvidence,
  { basis, pastFerments, confidence, halfTimeHours, endGravitySg }: FermentBand,
  { group, ferments }: HousePast,
): FermentExpectation {
  const ofThisBeer = ferments.filter(({ beer }) => beer === record.beer).length;
  return { basis, group, pastFerments, ofThisBeer, confidence, halfTimeHours, endGravitySg };
}

const rackingGravity = ({ endGravitySg }: FermentBand) =>
  sgFromExcessDegrees(excessDegreesFromSg(endGravitySg.mid) + rackedAboveEndDegrees);
