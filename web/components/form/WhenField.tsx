import { localStamp } from '../../format.ts';
import { ChoiceField } from './ChoiceField.tsx';
import type { AnyForm } from './Field.tsx';
import { Hint, problemOf } from './Field.tsx';
import { fieldId } from './formProblems.ts';

/** Now, unless said otherwise. */
export function WhenField({ form }: { form: AnyForm }) {
  const spec = form.fields.when;
  const stampSpec = form.fields.whenText;
  if (spec === undefined || stampSpec === undefined) return null;
  const id = fieldId(form.key, 'whenText');
  const problem = problemOf(form, 'whenText');
  return (
    <div class="when">
      <ChoiceField form={form} name="when" spec={spec} />
      {form.typed.when === 'earlier' && (
        <div class={`field${problem === undefined ? '' : ' field-wrong'}`}>
          <label for={id} class="field-label">
            {stampSpec.label}
          </label>
          <Hint id={id} spec={stampSpec} problem={problem} />
          <input
            id={id}
            type="datetime-local"
            class="box-narrow"
            max={localStamp(new Date())}
            value={form.typed.whenText ?? ''}
            aria-invalid={problem === undefined ? undefined : true}
            aria-describedby={problem === undefined ? undefined : `${id}-problem`}
            onInput={(event) => form.set('whenText', event.currentTarget.value)}
          />
        </div>
      )}
    </div>
  );
}
