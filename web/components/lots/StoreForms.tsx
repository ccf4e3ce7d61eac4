import type { EntryOf } from '#shared/entries/entry.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Saved } from '../../apiClient.ts';
import { amount } from '../../format.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { amountEntry, note, temperature, text, yeast } from '../form/fields.ts';
import type { Standing } from '../form/standingEntries.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';
import { Caution } from '../frame/Caution.tsx';

type Props<K extends 'storeReading' | 'hold' | 'release' | 'discard'> = {
  lot: LotStanding;
  /** The entry to be corrected; a new one without it. */
  done?: Standing<EntryOf<K>> | undefined;
  onSaved: (saved: Saved[]) => void;
};

const storeFields = {
  tempC: temperature({ label: 'Temperature of the yeast', hint: 'In the yeast, not of the room.' }),
  place: text({ label: 'Place', optional: true, hint: 'Where it stands: cold room, fridge 2.' }),
  note: note(),
};

export function StoreTemperatureForm({ lot, done, onSaved }: Props<'storeReading'>) {
  const form = useForm({
    key: `store.${done?.entryId ?? lot.id}`,
    fields: storeFields,
    start: done === undefined ? { place: lot.record.place } : startFrom(storeFields, done.body),
    entry: (values) => ({ kind: 'storeReading', lotId: lot.id, ...values }),
    corrects: done,
    onSaved,
  });
  return (
    <Form form={form} save="Save the temperature">
      <Field form={form} name="tempC" />
      <Field form={form} name="place" />
      <Field form={form} name="note" />
      <Caution title="Live yeast makes gas, even in the cold">
        <p>Vent its container every day; never store it in a tight one, least of all in glass.</p>
      </Caution>
    </Form>
  );
}

const holdFields = { why: text({ label: 'Why must it wait?' }) };
const releaseFields = { why: text({ label: 'Why may it be pitched again?' }) };

export function HoldForm({ lot, done, onSaved }: Props<'hold'>) {
  const form = useForm({
    key: `hold.${done?.entryId ?? lot.id}`,
    fields: holdFields,
    start: done === undefined ? {} : startFrom(holdFields, done.body),
    entry: (values) => ({ kind: 'hold', lotId: lot.id, ...values }),
    corrects: done,
    onSaved,
  });
  return (
    <Form form={form} save="Put it on hold">
      <Field form={form} name="why" />
    </Form>
  );
}

export function ReleaseForm({ lot, done, onSaved }: Props<'release'>) {
  const form = useForm({
    key: `release.${done?.entryId ?? lot.id}`,
    fields: releaseFields,
    start: done === undefined ? {} : startFrom(releaseFields, done.body),
    entry: (values) => ({ kind: 'release', lotId: lot.id, ...values }),
    corrects: done,
    onSaved,
  });
  return (
    <Form form={form} save="Release it">
      <Field form={form} name="why" />
    </Form>
  );
}

export function DiscardForm({ lot, done, onSaved }: Props<'discard'>) {
  const fields = {
    amount: yeast({
      label: 'Amount thrown away',
      measuredIn: lot.unit,
      hint: done === undefined ? leftWords(lot) : undefined,
    }),
    why: text({
      label: 'Reason',
      suggestions: ['Too old', 'Not needed', 'Poor viability', 'Contaminated', 'Spilt'],
    }),
    note: note(),
  };
  const thrown = done?.body.amountL ?? done?.body.amountKg ?? Math.max(0, lot.left);
  const form = useForm({
    key: `discard.${done?.entryId ?? lot.id}`,
    fields,
    start: {
      ...(done && startFrom(fields, done.body)),
      amount: fields.amount.show(thrown),
    },
    entry: ({ amount: entered, ...rest }) => ({
      kind: 'discard',
      lotId: lot.id,
      ...rest,
      ...amountEntry(lot.unit, entered),
    }),
    corrects: done,
    onSaved,
  });
  return (
    <Form form={form} save={done ? 'Save the correction' : 'Record it as thrown away'}>
      <Field form={form} name="amount" />
      {done === undefined && (form.values.amount ?? 0) > lot.left && (
        <p class="warning">
          That is more than is left by the record: check it. It can be recorded all the same.
        </p>
      )}
      <Field form={form} name="why" />
      <Field form={form} name="note" />
    </Form>
  );
}

const leftWords = ({ left, unit }: LotStanding) => `Left by the record: ${amount(left, unit)}.`;
