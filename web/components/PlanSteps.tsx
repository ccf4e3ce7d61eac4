import type { PitchStep } from '#shared/science/pitchSteps.ts';
import { figure, scientific } from '../format.ts';
import { Why } from './Why.tsx';

type Props = { title: string; steps: readonly PitchStep[]; source: string };

/** How a figure of the plan came about, line by line, and what it rests on. */
export function PlanSteps({ title, steps, source }: Props) {
  return (
    <Why title={title}>
      <dl class="plan-steps">
        {steps.map(({ label, formula, value, unit }) => (
          <div key={label}>
            <dt>
              {label}
              <small>{formula}</small>
            </dt>
            <dd>
              {unit.startsWith('cells') ? scientific(value) : figure(value)} {unit}
            </dd>
          </div>
        ))}
      </dl>
      <p>{source}</p>
    </Why>
  );
}
