import type { ComponentChildren } from 'preact';
import { moment } from '../../format.ts';
import { HistoryStale } from '../history/HistoryStale.tsx';
import { Field } from './Field.tsx';
import type { Form as FormState } from './useForm.ts';
import { WhenField } from './WhenField.tsx';
import { WhoField } from './WhoField.tsx';

type Props = {
  form: FormState;
  /** What the button says: "Save temperature"; undefined while there is nothing to record yet. */
  save: string | undefined;
  /** Left out where the moment is of no interest, as when a strain is set up. */
  when?: boolean;
  danger?: boolean;
  /** Where the button alone belongs beside a live result. */
  beforeSave?: ComponentChildren;
  children?: ComponentChildren;
};

/** A form with its moment, its person, and its button; checked when the button is pressed. */
export function Form({ form, save, when = true, danger = false, beforeSave, children }: Props) {
  return (
    <form class="form" noValidate onSubmit={form.submit}>
      {form.keptFromMs !== undefined && (
        <p class="kept">
          What you typed on {moment(new Date(form.keptFromMs).toISOString())} was kept.{' '}
          <button type="button" class="link" onClick={form.startAfresh}>
            Start afresh
          </button>
        </p>
      )}
      {children}
      {form.correcting && <Field form={form} name="reason" />}
      {when && save !== undefined && <WhenField form={form} />}
      {save !== undefined && <WhoField form={form} />}
      {beforeSave}
      <HistoryStale form={form} />
      {save !== undefined && form.stale === undefined && (
        <SaveButton saving={form.saving} label={save} danger={danger} />
      )}
    </form>
  );
}

function SaveButton({
  saving,
  label,
  danger,
}: {
  saving: boolean;
  label: string;
  danger: boolean;
}) {
  return (
    <p class="save">
      <button type="submit" class={danger ? 'button danger' : 'button'} aria-disabled={saving}>
        {saving ? 'Saving…' : label}
      </button>
    </p>
  );
}
