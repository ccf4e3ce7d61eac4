import type { LotStanding } from '#shared/views.ts';
import * as words from '#shared/words.ts';
import { Caution } from './Caution.tsx';
import { Field } from './Field.tsx';
import { Form } from './Form.tsx';
import {
  amountEntry,
  choice,
  decimal,
  note,
  plainOptions,
  select,
  temperature,
  text,
  whole,
  yeast,
} from './fields.ts';
import { announce } from './Notice.tsx';
import { useForm } from './useForm.ts';

type Props = { lot: LotStanding; onDone: () => void };

const said = (what: string, onDone: () => void) => () => {
  announce(what);
  onDone();
};

export function StoreTemperatureForm({ lot, onDone }: Props) {
  const form = useForm({
    key: `store.${lot.id}`,
    fields: {
      tempC: temperature({
        label: 'Temperature of the yeast',
        hint: 'In the yeast, not of the room.',
      }),
    },
    entry: ({ tempC }) => ({ kind: 'storeReading', lotId: lot.id, tempC }),
    onSaved: said('Store temperature recorded', onDone),
  });
  return (
    <Form form={form} save="Save the temperature">
      <Field form={form} name="tempC" />
    </Form>
  );
}

export function HoldForm({ lot, onDone }: Props) {
  const isHeld = lot.held !== null;
  const form = useForm({
    key: `hold.${lot.id}.${isHeld}`,
    fields: { why: text({ label: isHeld ? 'Why it may be pitched again' : 'Why it must wait' }) },
    entry: ({ why }) => ({ kind: isHeld ? 'release' : 'hold', lotId: lot.id, why }),
    onSaved: said(isHeld ? 'Released' : 'On hold', onDone),
  });
  return (
    <Form form={form} save={isHeld ? 'Release it' : 'Put it on hold'}>
      <Field form={form} name="why" />
    </Form>
  );
}

export function DiscardForm({ lot, onDone }: Props) {
  const form = useForm({
    key: `discard.${lot.id}`,
    fields: {
      amount: yeast({ label: 'Amount thrown away', measuredIn: lot.unit }),
      why: text({ label: 'Why' }),
    },
    start: { amount: String(lot.left) },
    entry: ({ amount, why }) => ({
      kind: 'discard',
      lotId: lot.id,
      why,
      ...amountEntry(lot.unit, amount),
    }),
    onSaved: said('Thrown away', onDone),
  });
  return (
    <>
      <Caution title="Yeast goes on working">
        <p>Never shut it in a sealed container: the gas can burst it.</p>
      </Caution>
      <Form form={form} save="Record the discard" danger>
        <Field form={form} name="amount" />
        <Field form={form} name="why" />
      </Form>
    </>
  );
}

const days = 86_400_000;

export function PlateForm({ lot, onDone }: Props) {
  const form = useForm({
    key: `plate.${lot.id}`,
    fields: {
      medium: text({
        label: 'Medium',
        suggestions: ['WLN', 'WLD', 'Lysine agar', 'Copper agar', 'UBA'],
      }),
      looksFor: text({ label: 'It looks for', hint: 'Such as wild yeast, or lactic bacteria.' }),
      incubationDays: decimal({ label: 'Read it after', unit: 'days' }),
      cellsPlated: decimal({ label: 'Cells plated', unit: 'cells' }),
      note: note(),
    },
    start: { incubationDays: '4' },
    entry: ({ incubationDays, ...facts }) => ({
      kind: 'microCheck',
      lotId: lot.id,
      ...facts,
      dueAt: new Date(Date.now() + (incubationDays ?? 0) * days).toISOString(),
    }),
    onSaved: said('Plate recorded; the lot is on hold until it is read', onDone),
  });
  return (
    <Form form={form} save="Save the plate">
      {['medium', 'looksFor', 'incubationDays', 'cellsPlated', 'note'].map((name) => (
        <Field key={name} form={form} name={name} />
      ))}
    </Form>
  );
}

export function PlateResultForm({ lot, onDone }: Props) {
  const form = useForm({
    key: `result.${lot.id}`,
    fields: {
      checkId: select({
        label: 'Plate',
        options: lot.pendingChecks.map((check) => ({ value: check.id, label: check.medium })),
      }),
      outcome: choice({
        label: 'What was found',
        options: [
          { value: 'clear', label: 'Clear' },
          { value: 'found', label: 'Something grew' },
          { value: 'discard', label: 'Over the limit: discard' },
        ],
      }),
      colonies: whole({ label: 'Colonies', optional: true }),
      note: note(),
    },
    start: { checkId: lot.pendingChecks[0]?.id },
    entry: (facts) => ({ kind: 'microResult', ...facts }),
    onSaved: said('Plate read', onDone),
  });
  return (
    <Form form={form} save="Save the result">
      {['checkId', 'outcome', 'colonies', 'note'].map((name) => (
        <Field key={name} form={form} name={name} />
      ))}
    </Form>
  );
}

export function TreatmentForm({ lot, onDone }: Props) {
  const form = useForm({
    key: `treatment.${lot.id}`,
    fields: {
      treatment: choice({ label: 'Treatment', options: plainOptions(words.treatmentKinds) }),
      agent: text({ label: 'Acid or agent', optional: true }),
      ph: decimal({ label: 'pH' }),
      tempC: temperature({ label: 'Warmest', optional: true }),
      minutes: decimal({ label: 'Minutes', unit: 'min', unitWords: 'minutes' }),
      note: note(),
    },
    entry: (facts) => ({ kind: 'treatment', lotId: lot.id, ...facts }),
    onSaved: said('Treatment recorded', onDone),
  });
  return (
    <>
      <Caution title="Acid">
        <p>
          It burns skin and eyes: goggles and gloves, acid into water and never the reverse. Keep
          the yeast at 5 °C or below, pH 2.0 to 2.5, two hours at most, and pitch it at once.
        </p>
      </Caution>
      <Form form={form} save="Save the treatment">
        {['treatment', 'agent', 'ph', 'tempC', 'minutes', 'note'].map((name) => (
          <Field key={name} form={form} name={name} />
        ))}
      </Form>
    </>
  );
}
