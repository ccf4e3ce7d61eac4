import type { Recorded } from '#shared/views/recorded.ts';
import type { Setup } from '#shared/views/setup.ts';
import type { Saved } from '../../apiClient.ts';
import { atItsSite } from '../../sites.ts';
import { type AnyForm, Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import {
  decimal,
  gravityField,
  note,
  select,
  type Typed,
  temperature,
  text,
  volume,
} from '../form/fields.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';
import { brewMeant, notPlanned, plannedField } from './plannedField.ts';

type FermentFormProps = {
  setup: Setup;
  /** The record to be corrected; a new gyle without it. */
  record?: Recorded<'ferment'>;
  /** The planned brew it carries out: a new gyle starts from its figures. */
  planned?: Recorded<'plannedBrew'> | null | undefined;
  onSaved: (saved: Saved) => void;
};

type Brew = Recorded<'plannedBrew'>;

const fieldsFor = (setup: Setup, brews: readonly Brew[]) => ({
  plannedBrewId: plannedField(brews, setup),
  gyle: text({ label: 'Gyle number', capitals: true }),
  beer: text({ label: 'Beer' }),
  vesselId: select({
    label: 'FV',
    options: setup.vessels.map(({ id, name, siteId, holds }) => ({
      value: id,
      label: `${atItsSite(name, siteId)}${holds === null ? '' : ` (holds ${holds.gyle})`}`,
    })),
  }),
  strainId: select({
    label: 'Strain',
    options: setup.strains.map(({ id, name }) => ({ value: id, label: name })),
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
export function FermentForm(props: FermentFormProps) {
  const { record } = props;
  const { form, planning, brews } = useFermentForm(props);
  return (
    <Form
      writes="ferment"
      form={form}
      save={record === undefined ? 'Save the gyle' : 'Save the correction'}
    >
      {brews.length > 0 && <Field form={planning} name="plannedBrewId" />}
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

/** The form, the same as its choice of a planned brew sees it, and the brews to choose from. */
function useFermentForm({ setup, record, planned, onSaved }: FermentFormProps) {
  const brews = brewsOffered(setup, planned);
  const fields = fieldsFor(setup, brews);
  const [onlyStrain, ...otherStrains] = setup.strains;
  const [onlyVessel, ...otherVessels] = setup.vessels;
  // What nobody has chosen is proposed by the beer.
  const chosenFor = (typed: Typed) =>
    typed.plannedBrewId || (record === undefined ? brewMeant(brews, typed, setup)?.id : undefined);
  const form = useForm({
    key: `ferment.${record?.id ?? planned?.id ?? 'new'}`,
    fields,
    start:
      record === undefined
        ? {
            plannedBrewId: planned?.id,
            strainId: otherStrains.length === 0 ? onlyStrain?.id : undefined,
            vesselId: otherVessels.length === 0 ? onlyVessel?.id : undefined,
            ...startFrom(fields, { ...planned, note: undefined }),
          }
        : {
            ...startFrom(fields, record),
            ...(record.plannedBrewId === null && { plannedBrewId: notPlanned }),
          },
    entry: (values, typed) => ({
      kind: 'ferment',
      ...values,
      plannedBrewId: values.plannedBrewId === undefined ? chosenFor(typed) : values.plannedBrewId,
    }),
    onSaved: ([saved]) => saved !== undefined && onSaved(saved),
    corrects: record,
  });
  const planning: AnyForm = {
    ...form,
    typed: { ...form.typed, plannedBrewId: chosenFor(form.typed) ?? notPlanned },
    set: (name, text) => {
      form.set(name, text);
      fillBlanks(
        form,
        brews.find(({ id }) => id === text),
      );
    },
  };
  return { form, planning, brews };
}

/** The brews planned and not yet brewed, and the one that is named already. */
const brewsOffered = ({ plannedBrews, notBrewed }: Setup, named: Brew | null | undefined): Brew[] =>
  [...(named ? [named] : []), ...notBrewed, ...plannedBrews].filter(
    ({ id }, at, all) => all.findIndex((brew) => brew.id === id) === at,
  );

/** A planned brew chosen gives the figures that nobody has typed. */
function fillBlanks(form: Pick<AnyForm, 'fields' | 'typed' | 'set'>, brew: Brew | undefined): void {
  if (brew === undefined) return;
  const figures = startFrom(form.fields, { ...brew, note: undefined });
  for (const [name, text] of Object.entries(figures))
    if ((form.typed[name] ?? '').trim() === '') form.set(name, text ?? '');
}
