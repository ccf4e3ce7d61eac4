import { Tag } from '../frame/Status.tsx';
import { type Known, stepsOf } from './firstStepsOf.ts';

/** From nothing to the first pitch, in order; the book opens here until that is done. */
export function FirstSteps(known: Known) {
  const steps = stepsOf(known);
  const next = steps.findIndex(({ done }) => !done);
  return (
    <section>
      <h2>From here to the first pitch</h2>
      <ol class="steps">
        {steps.map((step, at) => (
          <li key={step.title} class={at === next ? 'step step-next' : 'step'}>
            <div class="step-what">
              <h3>
                {at + 1}. {step.title}
              </h3>
              {at >= next && <p>{step.detail}</p>}
            </div>
            {step.done && <Tag tone="good">done</Tag>}
            {at === next && (
              <a class="button" href={step.href}>
                {step.verb}
              </a>
            )}
          </li>
        ))}
      </ol>
    </section>
  );
}
