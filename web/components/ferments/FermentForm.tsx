import type { Recorded } from '#shared/views/recorded.ts';
import type { Setup } from '#shared/views/setup.ts';
import type { Saved } from '../../apiClient.ts';
import { atItsSite } from '../../sites.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { decimal, gravityField, note, select, temperature, text, volume } from '../form/fields.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';

type FermentFormProps = {
  setup: Setup;
  /** The record to be corrected; a new gyle without it. */
  record?: Recorded<'ferment'>;
  /** The planned brew that was brewed: a new gyle starts from its figures. */
  planned?: Recorded<'plannedBrew'> | undefined;
  onSaved: (saved: Saved) => void;
};

const fieldsFor = ({ strains, vessels }: Setup) => ({
  gyle: text({ label: 'Gyle number', capitals: true }),
  beer: text({ label: 'Beer' }),
  vesselId: select({
    label: 'FV',
    options: vessels.map(({ id, name, siteId, holds }) => ({
      value: id,
      label: `${atItsSite(name, siteId)}${holds === null ? '' : ` (holds ${holds.gyle})`}`,
    })),
  }),
  strainId: select({
    label: 'Strain',
    options: strains.map(({ id, name }) => ({ value: id, label: name })),
  }),
  volumeL: volume({ label: 'Volume collected' }),
  originalGravitySg: gravityField({ label: 'Original gravity' }),
  setTempC: temperature({ label: 'Set temperature', optional: true }),
  oxygenMgPerL: decimal({
    label: 'Dissolved oxygen',
    unit: 'mg/L',
    marks: ['mg/L', 'ppm'],
    optional: true,
  }),
  zincMgPerL: decimal({ label: 'Zinc', unit: 'mg/L', marks: ['mg/L', 'ppm'], optional: true }),
  fanMgPerL: decimal({
    label: 'Free amino nitrogen',
    unit: 'mg/L',
    marks: ['mg/L', 'ppm'],
    optional: true,
  }),
  note: note(),
});

/** A gyle as it was collected: the first thing written down about a ferment. */
export function FermentForm({ setup, record, planned, onSaved }: FermentFormProps) {
  const fields = fieldsFor(setup);
  const [onlyStrain, ...otherStrains] = setup.strains;
  const [onlyVessel, ...otherVessels] = setup.vessels;
  const form = useForm({
    key: `ferment.${record?.id ?? planned?.id ?? 'new'}`,
    fields,
    start:
      record === undefined
        ? {
            strainId: otherStrains.length === 0 ? onlyStrain?.id : undefined,
            vesselId: otherVessels.length === 0 ? onlyVessel?.id : undefined,
            ...startFrom(fields, { ...planned, note: undefined }),
          }
        : startFrom(fields, record),
    entry: (values) => ({ kind: 'ferment', ...values }),
    onSaved: ([saved]) => saved !== undefined && onSaved(saved),
    corrects: record,
  });
  return (
    <Form
      writes="ferment"
      form={form}
      save={record === undefined ? 'Save the gyle' : 'Save the correction'}
    >
      <div class="pair">
        <Field form={form} name="gyle" />
        <Field form={form} name="beer" />
      </div>
      <div class="pair">
        <Field form={form} name="vesselId" />
        <Field form={form} name="strainId" />
      </div>
      <div class="pair">
        <Field form={form} name="volumeL" />
        <Field form={form} name="originalGravitySg" />
      </div>
      <Field form={form} name="setTempC" />
      <details class="more">
        <summary>What the wort held</summary>
        <div class="pair">
          <Field form={form} name="oxygenMgPerL" />
          <Field form={form} name="zincMgPerL" />
        </div>
        <Field form={form} name="fanMgPerL" />
        <Field form={form} name="note" />
      </details>
    </Form>
  );
}
