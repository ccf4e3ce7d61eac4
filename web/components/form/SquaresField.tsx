import { useState } from 'preact/hooks';
import { keptSequence } from '../bench/tallyMemory.ts';
import type { AnyForm } from './Field.tsx';
import { describedBy, Hint, problemOf } from './Field.tsx';
import { fieldId } from './formProblems.ts';

type SquaresFieldProps = {
  form: AnyForm;
  name: string;
  legend: string;
  /** Squares people usually count in this ruling. */
  usual: number;
  /** The name of its tally, and what opens it. */
  tally: string;
  onTally: () => void;
};

/** A box for each square of one side of the slide, or a tally of them at the microscope. */
export function SquaresField({ form, name, legend, usual, tally, onTally }: SquaresFieldProps) {
  const parts = (form.typed[name] ?? '').split(',');
  const [boxes, setBoxes] = useState(usual);
  const id = fieldId(form.key, name);
  const spec = form.fields[name];
  const problem = problemOf(form, name);
  if (spec === undefined) return null;
  const put = (nth: number, text: string) => {
    const next = Array.from({ length: Math.max(parts.length, nth + 1) }, (_, at) =>
      at === nth ? text.replace(/[,;\s]/g, '') : (parts[at] ?? ''),
    );
    form.set(name, next.join(',').replace(/,+$/, ''));
  };
  const shown = Math.max(boxes, usual, parts.length);
  const counted = parts.map(Number).filter((cells, at) => parts[at] !== '' && cells >= 0);
  return (
    <fieldset
      class={`field squares${problem === undefined ? '' : ' field-wrong'}`}
      aria-describedby={describedBy(id, spec, problem)}
    >
      <legend class="field-label">{legend}</legend>
      <Hint id={id} spec={spec} problem={problem} />
      <div class="squares-row">
        {Array.from({ length: shown }, (_, nth) => (
          <input
            key={nth}
            id={nth === 0 ? id : `${id}-${nth}`}
            type="text"
            inputMode="numeric"
            autocomplete="off"
            enterkeyhint="next"
            aria-label={`${legend}, square ${nth + 1}`}
            value={parts[nth] ?? ''}
            onInput={(event) => put(nth, event.currentTarget.value)}
            onKeyDown={(event) => event.key === 'Enter' && toNext(event, `${id}-${nth + 1}`)}
          />
        ))}
        <button type="button" class="button quiet small" onClick={() => setBoxes(shown + 1)}>
          + square
        </button>
      </div>
      <p class="squares-foot">
        <button type="button" class="button quiet" onClick={onTally}>
          {keptSequence(tally) === '' ? 'Tally at the microscope' : 'Go on with the tally'}
        </button>
        <span>
          {counted.length > 0 &&
            `${counted.reduce((sum, cells) => sum + cells, 0)} cells in ${counted.length} squares`}
        </span>
      </p>
    </fieldset>
  );
}

/** Enter goes to the next square; it must not send the form half counted. */
function toNext(event: KeyboardEvent, id: string) {
  event.preventDefault();
  document.getElementById(id)?.focus();
}
