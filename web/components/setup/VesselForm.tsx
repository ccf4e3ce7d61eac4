import type { Setup } from '#shared/views/setup.ts';
import { sites } from '../../sites.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { text, volume } from '../form/fields.ts';
import { siteField, siteStart } from '../form/siteField.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';

const fieldsFor = () => ({
  name: text({ label: 'Name of the FV', hint: 'As painted on it: FV 1.' }),
  capacityL: volume({ label: 'Capacity', optional: true }),
  siteId: siteField(),
});

type Props = { vessel?: Setup['vessels'][number]; onSaved: () => void };

export function VesselForm({ vessel, onSaved }: Props) {
  const fields = fieldsFor();
  const form = useForm({
    key: vessel === undefined ? 'vessel' : `vessel.${vessel.entryId}`,
    fields,
    start: { ...(vessel && startFrom(fields, vessel)), siteId: siteStart(vessel) },
    entry: (values) => ({ kind: 'vessel', ...values }),
    corrects: vessel,
    onSaved,
  });
  return (
    <Form form={form} save={vessel ? 'Save the change' : 'Save the FV'} when={false}>
      <Field form={form} name="name" />
      <Field form={form} name="capacityL" />
      {sites.value.length > 0 && <Field form={form} name="siteId" />}
    </Form>
  );
}
