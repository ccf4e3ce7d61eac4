import type { ComponentChildren } from 'preact';
import type { RecordKind } from '#shared/entries/entry.ts';
import { moment } from '../../format.ts';
import { whyNotWrite } from '../../mayWrite.ts';
import { HistoryStale } from '../history/HistoryStale.tsx';
import { Field } from './Field.tsx';
import type { Form as FormState } from './useForm.ts';
import { WhenField } from './WhenField.tsx';
import { WhoField } from './WhoField.tsx';

type Props = {
  form: FormState;
  /** What the button says: "Save temperature"; undefined while there is nothing to record yet. */
  save: string | undefined;
  /** What it writes down: whoever may not is told so before typing, and gets no button. */
  writes?: RecordKind;
  /** Left out where the moment is of no interest, as when a strain is set up. */
  when?: boolean;
  danger?: boolean;
  /** Where the button alone belongs beside a live result. */
  beforeSave?: ComponentChildren;
  children?: ComponentChildren;
};

/** A form with its moment, its person, and its button; checked when the button is pressed. */
export function Form({ form, save, writes, when = true, danger, beforeSave, children }: Props) {
  const whyNot = writes === undefined ? undefined : whyNotWrite(writes);
  const maySave = save !== undefined && whyNot === undefined;
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
      {whyNot !== undefined && <p class="warning">{whyNot}</p>}
      {children}
      {form.correcting && <Field form={form} name="reason" />}
      {when && maySave && <WhenField form={form} />}
      {maySave && <WhoField form={form} />}
      {beforeSave}
      <HistoryStale form={form} />
      {maySave && form.stale === undefined && (
        <SaveButton saving={form.saving} label={save} danger={danger ?? false} />
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
