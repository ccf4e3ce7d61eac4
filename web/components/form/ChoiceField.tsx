import type { AnyForm } from './Field.tsx';
import { describedBy, Hint, problemOf } from './Field.tsx';
import type { Spec } from './fields.ts';
import { fieldId } from './formProblems.ts';

/** A short list of radio buttons, each a full target. */
export function ChoiceField({
  form,
  name,
  spec,
}: {
  form: AnyForm;
  name: string;
  spec: Spec<unknown>;
}) {
  const id = fieldId(form.key, name);
  const problem = problemOf(form, name);
  return (
    <fieldset
      class={`field choice${problem === undefined ? '' : ' field-wrong'}`}
      aria-describedby={describedBy(id, spec, problem)}
    >
      <legend class="field-label">
        {spec.label}
        {spec.optional && <span class="field-optional"> (may be left out)</span>}
      </legend>
      <Hint id={id} spec={spec} problem={problem} />
      <div class="choice-row">
        {spec.options?.map(({ value, label, hint }, at) => (
          <label key={value} class="choice-option">
            <input
              type="radio"
              id={at === 0 ? id : `${id}-${at}`}
              name={id}
              value={value}
              checked={form.typed[name] === value}
              onChange={() => form.set(name, value)}
            />
            <span>
              {label}
              {hint !== undefined && <small>{hint}</small>}
            </span>
          </label>
        ))}
      </div>
    </fieldset>
  );
}
