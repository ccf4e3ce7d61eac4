import type { FermentEvidence } from './fermentEvidence.ts';
import type { FermentJudgement } from './fermentStanding.ts';
import { stateOf } from './fermentStanding.ts';
import { finishedCurve } from './finishedFerment.ts';
import { pitchedMsOf } from './gravities.ts';
import { type FermentView, runningCourse } from './runningCourse.ts';

/** Compares a running ferment with its band; draws the curve of one that is over. */
export function fermentJudgement(evidence: FermentEvidence, view: FermentView): FermentJudgement {
  const pitchedMs = pitchedMsOf(evidence);
  const isRunning = stateOf(evidence) === 'fermenting' && pitchedMs !== null;
  return {
    running: isRunning ? runningCourse(evidence, pitchedMs, view) : null,
    halfTimeHours: finishedCurve(evidence, view.models)?.derived.halfTimeHours?.value ?? null,
  };
}
