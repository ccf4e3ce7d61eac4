import type { FreshNeed } from '#shared/plan/freshView.ts';
import { PROPAGATION_DEFAULTS } from '#shared/science/propagation.ts';
import type { EntryDraft } from '../form/entryDraft.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { choice, day, decimal, note } from '../form/fields.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';

const usual = (text: string) => `Left out: ${text}. Common practice, no source.`;
const { firstVolumeL, greatestStepRatio, hoursPerStep } = PROPAGATION_DEFAULTS;
const { stillCellsPerMl, aeratedCellsPerMl } = PROPAGATION_DEFAULTS;

const money = (label: string, hint: string) => decimal({ label, hint, optional: true });
const perCent = (label: string, hint: string) =>
  decimal({ label, hint, optional: true, unit: '%', unitWords: 'per cent' });
const density = (label: string, usualCells: number) => ({
  ...decimal({
    label,
    optional: true,
    unit: 'million/mL',
    unitWords: 'million cells per mL',
    hint: usual(`${usualCells / 1e6} million/mL`),
  }),
  // Entered in millions, kept in cells.
  show: (cellsPerMl: number) => String(cellsPerMl / 1e6),
});

const fields = {
  comesFrom: choice({
    label: 'Where does it come from?',
    options: [
      { value: 'slope', label: 'A slope, woken and stepped up here' },
      { value: 'bought', label: 'It is ordered' },
    ],
  }),
  expectedOn: day({
    label: 'Under way, expected on',
    optional: true,
    hint: 'Once it is ordered or the slope is woken: the plan then reckons with it from that day on.',
  }),
  firstVolumeL: decimal({
    label: 'First step from the slope',
    optional: true,
    unit: 'L',
    unitWords: 'litres',
    hint: usual(`${1000 * firstVolumeL} mL`),
  }),
  greatestStepRatio: decimal({
    label: 'Greatest step',
    optional: true,
    unit: 'times',
    unitWords: 'times the volume before',
    hint: usual(`${greatestStepRatio} times`),
  }),
  daysPerStep: decimal({
    label: 'Days per step',
    optional: true,
    unit: 'days',
    unitWords: 'days',
    hint: usual(`${hoursPerStep / 24} days`),
  }),
  stillCellsPerMl: density('Reached standing still', stillCellsPerMl),
  aeratedCellsPerMl: density('Reached when aerated', aeratedCellsPerMl),
  freshCultureCost: money(
    'Cost of a fresh culture',
    'With its laboratory time and its slow first brew. In your own money, like all that follows.',
  ),
  lostBrewCost: money('Cost of a lost brew', 'A brew thrown away because of its yeast.'),
  handlingCostPerBrew: money('Handling per brew', 'Counting, washing, storing. Left out: nothing.'),
  extraCostPerGeneration: money(
    'Extra per generation',
    'Longer in the FV, lost attenuation: what each generation adds to every brew. Left out: nothing.',
  ),
  lostBrewPercent: perCent(
    'Chance of a lost brew',
    'Of the first generation. Left out: worked out from your own plates, or a wide guess.',
  ),
  lostBrewRisePercent: perCent(
    'Rise per generation',
    'Only with the chance above. Left out: none.',
  ),
  note: note(),
};

type Props = { fresh: FreshNeed; onSaved: () => void };

/** How fresh culture of a strain comes in, and what it and a lost brew cost. */
export function PlanPolicyForm({ fresh: { strain, policy }, onSaved }: Props) {
  const form = useForm({
    key: `fresh.${policy?.entryId ?? strain.id}`,
    fields,
    start: policy === null ? { comesFrom: 'slope' } : startFrom(fields, policy),
    entry: ({ stillCellsPerMl: still, aeratedCellsPerMl: aerated, ...values }): EntryDraft => ({
      kind: 'freshCulturePolicy',
      strainId: strain.id,
      ...values,
      stillCellsPerMl: still && still * 1e6,
      aeratedCellsPerMl: aerated && aerated * 1e6,
    }),
    corrects: policy ?? undefined,
    onSaved,
  });
  return (
    <Form form={form} save="Save" when={false}>
      <Field form={form} name="comesFrom" />
      <Field form={form} name="expectedOn" />
      {form.values.comesFrom !== 'bought' && (
        <>
          <h4>Steps from the slope</h4>
          <div class="pairs">
            <Field form={form} name="firstVolumeL" />
            <Field form={form} name="greatestStepRatio" />
            <Field form={form} name="daysPerStep" />
            <Field form={form} name="stillCellsPerMl" />
            <Field form={form} name="aeratedCellsPerMl" />
          </div>
        </>
      )}
      <h4>Costs</h4>
      <div class="pairs">
        <Field form={form} name="freshCultureCost" />
        <Field form={form} name="lostBrewCost" />
        <Field form={form} name="handlingCostPerBrew" />
        <Field form={form} name="extraCostPerGeneration" />
        <Field form={form} name="lostBrewPercent" />
        <Field form={form} name="lostBrewRisePercent" />
      </div>
      <Field form={form} name="note" />
    </Form>
  );
}
