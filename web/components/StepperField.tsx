import type { AnyForm } from './Field.tsx';
import { Field } from './Field.tsx';

type StepperFieldProps = {
  form: AnyForm;
  name: string;
  /** Where the first press starts, such as the amount of the last crop. */
  from: number;
  /** What the first press is called: "As last time: 30 L"; left out when there was no last time. */
  fromName?: string | undefined;
};

/** A figure that can be set with a wet glove: one press starts it, the next ones move it. */
export function StepperField({ form, name, from, fromName }: StepperFieldProps) {
  const label = form.fields[name]?.label.toLowerCase() ?? '';
  const typed = (form.typed[name] ?? '').trim();
  const isBlank = typed === '';
  const move = (by: number) => {
    const now = Number(typed.replace(',', '.'));
    if (Number.isNaN(now)) return;
    const next = isBlank ? from : Math.max(0, now + by);
    form.set(name, String(Number(next.toFixed(2))));
  };
  const [small, large] = from >= 10 ? [1, 5] : [0.5, 2];
  return (
    <div class="stepped">
      <Field form={form} name={name} />
      {isBlank && fromName !== undefined && (
        <button type="button" class="button quiet stepper-start" onClick={() => move(0)}>
          {fromName}
        </button>
      )}
      <div class="steppers">
        {[-large, -small, small, large].map((by) => (
          <button
            key={by}
            type="button"
            class="stepper"
            aria-label={`${by < 0 ? 'Less' : 'More'} ${label}, by ${Math.abs(by)}`}
            onClick={() => move(by)}
          >
            {by < 0 ? `−${-by}` : `+${by}`}
          </button>
        ))}
      </div>
    </div>
  );
}
