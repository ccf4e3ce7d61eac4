import type { PitchStep } from '#shared/science/pitchSteps.ts';
import { StepsOfSum } from '../frame/StepsOfSum.tsx';
import { Why } from '../frame/Why.tsx';

type Props = { title: string; steps: readonly PitchStep[]; source: string };

/** How a figure of the plan came about, line by line, and what it rests on. */
export function PlanSteps({ title, steps, source }: Props) {
  return (
    <Why title={title} isLong>
      <StepsOfSum look="plan-steps" steps={steps} />
      <p>{source}</p>
    </Why>
  );
}
