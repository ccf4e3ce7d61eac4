import type { Recorded } from '#shared/views/recorded.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { decimal, gravityField, note, temperature } from '../form/fields.ts';
import { millionPerMl } from '../form/listFields.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';

const fields = {
  gravitySg: gravityField({ label: 'Gravity', optional: true }),
  tempC: temperature({ label: 'Temperature', optional: true }),
  ph: decimal({ label: 'pH', optional: true }),
  cellsPerMl: millionPerMl({ label: 'Cells in suspension', optional: true }),
  note: note(),
};

type ReadingFormProps = {
  fermentId: string;
  record?: Recorded<'reading'>;
  onSaved: (warnings: readonly string[]) => void;
};

/** A reading of a ferment: gravity, temperature, and what else was measured. */
export function ReadingForm({ fermentId, record, onSaved }: ReadingFormProps) {
  const form = useForm({
    key: `reading.${record?.id ?? fermentId}`,
    fields,
    start: record === undefined ? {} : startFrom(fields, record),
    entry: (values) => ({ kind: 'reading', fermentId, count: record?.count, ...values }),
    onSaved: (saved) => onSaved(saved.flatMap(({ warnings }) => warnings)),
    corrects: record,
  });
  return (
    <Form form={form} save={record === undefined ? 'Save the reading' : 'Save the correction'}>
      <div class="pair">
        <Field form={form} name="gravitySg" />
        <Field form={form} name="tempC" />
      </div>
      <details class="more" open={record !== undefined}>
        <summary>pH, cells in suspension, note</summary>
        <div class="pair">
          <Field form={form} name="ph" />
          <Field form={form} name="cellsPerMl" />
        </div>
        <Field form={form} name="note" />
      </details>
    </Form>
  );
}
