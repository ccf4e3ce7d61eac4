import type { Recorded } from '#shared/views/recorded.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { gravityField, note, temperature } from '../form/fields.ts';
import { textList } from '../form/listFields.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';

type OnSaved = (warnings: readonly string[]) => void;

const chillFields = {
  toTempC: temperature({ label: 'Chilled to', optional: true }),
  note: note(),
};

type ChillFormProps = { fermentId: string; record?: Recorded<'chill'>; onSaved: OnSaved };

export function ChillForm({ fermentId, record, onSaved }: ChillFormProps) {
  const form = useForm({
    key: `chill.${record?.id ?? fermentId}`,
    fields: chillFields,
    start: record === undefined ? {} : startFrom(chillFields, record),
    entry: (values) => ({ kind: 'chill', fermentId, ...values }),
    onSaved: (saved) => onSaved(saved.flatMap(({ warnings }) => warnings)),
    corrects: record,
  });
  return (
    <Form form={form} save={record === undefined ? 'Save the chilling' : 'Save the correction'}>
      <Field form={form} name="toTempC" />
      <Field form={form} name="note" />
    </Form>
  );
}

const rackFields = {
  gravitySg: gravityField({ label: 'Gravity at racking', optional: true }),
  batches: textList({
    label: 'Cask batches',
    hint: 'Parted by commas. By these the casks are found again if the yeast turns out suspect.',
  }),
  note: note(),
};

type RackFormProps = {
  fermentId: string;
  record?: Recorded<'rack'>;
  onSaved: OnSaved;
};

export function RackForm({ fermentId, record, onSaved }: RackFormProps) {
  const form = useForm({
    key: `rack.${record?.id ?? fermentId}`,
    fields: rackFields,
    start: record === undefined ? {} : startFrom(rackFields, record),
    entry: ({ batches = [], ...values }) => ({ kind: 'rack', fermentId, batches, ...values }),
    onSaved: (saved) => onSaved(saved.flatMap(({ warnings }) => warnings)),
    corrects: record,
  });
  return (
    <Form form={form} save={record === undefined ? 'Save the racking' : 'Save the correction'}>
      <Field form={form} name="gravitySg" />
      <Field form={form} name="batches" />
      <Field form={form} name="note" />
    </Form>
  );
}
