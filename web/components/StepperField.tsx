import type { AnyForm } from './Field.tsx';
import { Field } from './Field.tsx';

type StepperFieldProps = {
  form: AnyForm;
  name: string;
  /** What one press adds or takes, in the unit of the field. */
  step: number;
  /** Where the first press starts, such as the amount of the last crop. */
  from: number;
};

/** A figure that can be set with a wet glove: one press starts it, the next ones move it. */
export function StepperField({ form, name, step, from }: StepperFieldProps) {
  const label = form.fields[name]?.label.toLowerCase() ?? '';
  const move = (by: number) => {
    const typed = Number((form.typed[name] ?? '').trim().replace(',', '.'));
    const isBlank = (form.typed[name] ?? '').trim() === '';
    if (Number.isNaN(typed)) return;
    const next = isBlank ? from : Math.max(0, typed + by);
    form.set(name, String(Number(next.toFixed(2))));
  };
  return (
    <Field
      form={form}
      name={name}
      beside={
        <span class="steppers">
          <button
            type="button"
            class="stepper"
            aria-label={`Less ${label}`}
            onClick={() => move(-step)}
          >
            −
          </button>
          <button
            type="button"
            class="stepper"
            aria-label={`More ${label}`}
            onClick={() => move(step)}
          >
            +
          </button>
        </span>
      }
    />
  );
}
