import type { Setup } from '#shared/views/setup.ts';
import { Field } from './Field.tsx';
import { Form } from './Form.tsx';
import { text, volume } from './fields.ts';
import { startFrom } from './startFrom.ts';
import { useForm } from './useForm.ts';

const fields = {
  name: text({ label: 'Name of the FV', hint: 'As painted on it: FV 1.' }),
  capacityL: volume({ label: 'Capacity', optional: true }),
};

type Props = { vessel?: Setup['vessels'][number]; onSaved: () => void };

export function VesselForm({ vessel, onSaved }: Props) {
  const form = useForm({
    key: vessel === undefined ? 'vessel' : `vessel.${vessel.entryId}`,
    fields,
    start: vessel === undefined ? {} : startFrom(fields, vessel),
    entry: (values) => ({ kind: 'vessel', ...values }),
    corrects: vessel,
    onSaved,
  });
  return (
    <Form form={form} save={vessel ? 'Save the change' : 'Save the FV'} when={false}>
      <Field form={form} name="name" />
      <Field form={form} name="capacityL" />
    </Form>
  );
}
