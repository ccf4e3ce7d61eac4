import { useEffect, useRef } from 'preact/hooks';
import type { Setup } from '#shared/views/setup.ts';
import { fetchCurrentFerments, fetchLotsInStore } from '../../apiClient.ts';
import { sayWhatIsNext } from '../frame/Notice.tsx';
import { useLoad } from '../frame/useLoad.ts';
import { stepsOf } from './firstStepsOf.ts';
import '../../styles/today.css';

async function fetchRest(signal: AbortSignal) {
  const [lots, ferments] = await Promise.all([
    fetchLotsInStore(signal),
    fetchCurrentFerments(signal),
  ]);
  return { lots, ferments };
}

/** On top of Setup until the first pitch: the step that comes now, told again as one is done. */
export function NextStep({ setup }: { setup: Setup }) {
  const { data } = useLoad(fetchRest);
  const steps = data === null ? [] : stepsOf({ setup, ...data });
  const at = steps.findIndex(({ done }) => !done);
  const step = steps[at];
  const link = useRef<HTMLAnchorElement>(null);
  const before = useRef<string | undefined>(undefined);
  useEffect(() => {
    if (step === undefined) return;
    if (before.current !== undefined && before.current !== step.title) {
      sayWhatIsNext({ href: here(step.href), label: `Next: ${inSentence(step.title)}` });
      // The form that was saved is gone, and the focus with it.
      if (document.activeElement === document.body) link.current?.focus();
    }
    before.current = step.title;
  }, [step?.title]);
  if (step === undefined) return null;
  return (
    <div class="step step-next next-step">
      <div class="step-what">
        <p>
          Step {at + 1} of {steps.length} to the first pitch
        </p>
        <strong>{step.title}</strong>
      </div>
      <a ref={link} class="button" href={here(step.href)}>
        {step.verb}
      </a>
    </div>
  );
}

/** A part of this very page by its name alone, so that it opens again where it was closed. */
const here = (href: string) => href.replace(/^\/setup#/, '#');
const inSentence = (title: string) => title.replace(/^./, (first) => first.toLowerCase());
