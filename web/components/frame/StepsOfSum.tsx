import type { PitchStep } from '#shared/science/pitchSteps.ts';
import { figure, scientific } from '../../format.ts';

/** The working of a figure, line by line. */
export function StepsOfSum({ steps, look }: { steps: readonly PitchStep[]; look: string }) {
  return (
    <dl class={look}>
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
  );
}
