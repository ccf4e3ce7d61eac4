import { presetPendingCheck } from '#shared/lots/holding.ts';
import type { StrainView } from '#shared/views/recorded.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { choice, decimal, note, temperature, text, whole } from '../form/fields.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';

const fields = {
  name: text({ label: 'Name of the strain', hint: 'As you call it in the brewhouse.' }),
  code: text({
    label: 'Short code',
    capitals: true,
    hint: 'One to four capital letters or digits; every lot code begins with it.',
  }),
  crops: choice({
    label: 'Cropped from',
    options: [
      { value: 'top', label: 'Top, by skimming' },
      { value: 'bottom', label: 'Bottom, from the cone' },
    ],
  }),
  rateMillionPerMlPerPlato: decimal({
    label: 'Pitching rate',
    unit: 'million/mL/°P',
    unitWords: 'million living cells per mL per °P',
    hint: 'Ales about 0.75, between 0.5 and 1: second hand, after Fix.',
  }),
  tempLowC: temperature({ label: 'Ferments from', hint: 'The usual band: 15 to 22 °C for ales.' }),
  tempHighC: temperature({ label: 'Ferments up to' }),
  maxGenerations: whole({
    label: 'Most generations',
    hint: 'How many from a fresh culture, however you number it. House policy, not science: 10 or fewer is named as good practice (Quain), some ale breweries set none.',
  }),
  maxStorageDays: decimal({
    label: 'Most days in store',
    unit: 'days',
    unitWords: 'days',
    hint: 'Best within 2 days, no more than 4 (Quain).',
  }),
  storeLowC: temperature({ label: 'Store from', hint: '1 to 4 °C; it must not freeze.' }),
  storeHighC: temperature({ label: 'Store up to' }),
  minViabilityPercent: decimal({
    label: 'Least viability',
    unit: '%',
    unitWords: 'per cent',
    hint: 'Usually above 90 %, aiming at 95 %: maltster and supplier guidance.',
  }),
  staleCountHours: decimal({
    label: 'A count is stale after',
    unit: 'hours',
    unitWords: 'hours',
    marks: ['h', 'hour'],
    hint: 'Counted on the morning of the brew: 24 hours. Common practice, no source.',
  }),
  leadTimeDays: decimal({
    label: 'Lead time for fresh culture',
    unit: 'days',
    unitWords: 'days',
    hint: 'About two weeks from a slope: second hand. Days, when it is bought.',
  }),
  pendingRoutineCheck: choice({
    label: 'A routine plate not yet read',
    options: [
      {
        value: 'warn',
        label: 'Warns',
        hint: 'It takes longer than yeast keeps: the yeast may be pitched, and the lot says so.',
      },
      { value: 'hold', label: 'Holds the lot', hint: 'Nothing is pitched before it is read.' },
    ],
  }),
  note: note(),
};

const preset = () => ({
  crops: 'top',
  rateMillionPerMlPerPlato: '0.75',
  tempLowC: fields.tempLowC.show(15),
  tempHighC: fields.tempHighC.show(22),
  maxGenerations: '10',
  maxStorageDays: '4',
  storeLowC: fields.storeLowC.show(1),
  storeHighC: fields.storeHighC.show(4),
  minViabilityPercent: '90',
  staleCountHours: '24',
  leadTimeDays: '14',
  pendingRoutineCheck: presetPendingCheck,
});

type Props = { strain?: StrainView; onSaved: () => void };

export function StrainForm({ strain, onSaved }: Props) {
  const form = useForm({
    key: strain === undefined ? 'strain' : `strain.${strain.entryId}`,
    fields,
    start: strain === undefined ? preset() : { ...preset(), ...startFrom(fields, strain) },
    entry: (values) => ({ kind: 'strain', ...values }),
    corrects: strain,
    onSaved,
  });
  return (
    <Form form={form} save={strain ? 'Save the change' : 'Save the strain'} when={false}>
      <Field form={form} name="name" />
      <Field form={form} name="code" />
      <Field form={form} name="crops" />
      <Field form={form} name="rateMillionPerMlPerPlato" />
      <h4>Limits it is judged by</h4>
      <p class="field-hint">They are yours to set; each says where its preset comes from.</p>
      <div class="pairs">
        <Field form={form} name="tempLowC" />
        <Field form={form} name="tempHighC" />
        <Field form={form} name="storeLowC" />
        <Field form={form} name="storeHighC" />
        <Field form={form} name="maxStorageDays" />
        <Field form={form} name="minViabilityPercent" />
        <Field form={form} name="staleCountHours" />
        <Field form={form} name="maxGenerations" />
        <Field form={form} name="leadTimeDays" />
      </div>
      <Field form={form} name="pendingRoutineCheck" />
      <p class="below-field">A plate taken on suspicion holds its lot in any case.</p>
      <Field form={form} name="note" />
    </Form>
  );
}
