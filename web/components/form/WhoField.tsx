import { useEffect, useState } from 'preact/hooks';
import { person } from '../../settings.ts';
import type { AnyForm } from './Field.tsx';
import { Field, problemOf } from './Field.tsx';
import { fieldId } from './formProblems.ts';

/** Who did it: the person of this device, folded away until it is someone else. */
export function WhoField({ form }: { form: AnyForm }) {
  const [open, setOpen] = useState(false);
  // The button that was pressed is gone: the focus goes on to the field.
  useEffect(() => {
    if (open) document.getElementById(fieldId(form.key, 'by'))?.focus();
  }, [open, form.key]);
  const asked = open || person.value === '' || problemOf(form, 'by') !== undefined;
  if (asked) return <Field form={form} name="by" />;
  return (
    <p class="who">
      Done by <strong>{form.typed.by}</strong>{' '}
      <button type="button" class="link" onClick={() => setOpen(true)}>
        Someone else
      </button>
    </p>
  );
}
