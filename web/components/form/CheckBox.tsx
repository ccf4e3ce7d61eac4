import type { AnyForm } from './Field.tsx';
import { describedBy, Hint, problemOf } from './Field.tsx';
import type { Spec } from './fields.ts';
import { fieldId } from './formProblems.ts';

export function CheckBox({
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
    <div class={`field${problem === undefined ? '' : ' field-wrong'}`}>
      <label class="choice-option">
        <input
          type="checkbox"
          id={id}
          checked={form.typed[name] === 'yes'}
          aria-describedby={describedBy(id, spec, problem)}
          onChange={(event) => form.set(name, event.currentTarget.checked ? 'yes' : '')}
        />
        <span>{spec.label}</span>
      </label>
      <Hint id={id} spec={spec} problem={problem} />
    </div>
  );
}
