import type { AnyForm } from './Field.tsx';
import { Field } from './Field.tsx';
import { stepped } from './stepped.ts';

type StepperFieldProps = {
  form: AnyForm;
  name: string;
  /** An amount usual here, which sets how far a press moves. */
  usual: number;
  /** Where the first press starts, such as the amount of the last crop; from nothing when left out. */
  start?: { from: number; name: string } | undefined;
};

/** A figure that can be set with a wet glove: one press starts it, the next ones move it. */
export function StepperField({ form, name, usual, start }: StepperFieldProps) {
  const label = form.fields[name]?.label.toLowerCase() ?? '';
  const typed = (form.typed[name] ?? '').trim();
  const isBlank = typed === '';
  const move = (by: number) => {
    const next = stepped(typed, by, start?.from);
    if (next !== undefined) form.set(name, next);
  };
  const [small, large] = usual >= 10 ? [1, 5] : [0.5, 2];
  return (
    <div class="stepped">
      <Field form={form} name={name} />
      {isBlank && start !== undefined && (
        <button type="button" class="button quiet stepper-start" onClick={() => move(0)}>
          {start.name}
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
