import type { EntryOf } from '#shared/entries/entry.ts';
import type { LotStanding } from '#shared/views.ts';
import * as words from '#shared/words.ts';
import { temperature as shownTemperature } from '../format.ts';
import { Caution } from './Caution.tsx';
import { Field } from './Field.tsx';
import { Form } from './Form.tsx';
import { choice, decimal, note, plainOptions, temperature, text, yeast } from './fields.ts';
import type { Standing } from './standingEntries.ts';
import { startFrom } from './startFrom.ts';
import { useForm } from './useForm.ts';

/** Plain acid: Simpson & Hammond 1989 down to pH 2.1; Oxford Companion 2.2 to 2.5, two hours. */
const acidWash = { lowPh: 2, highPh: 2.5, persulphatePh: 2.8, warmestC: 5, longestMinutes: 120 };

const fieldsFor = (unit: 'L' | 'kg') => ({
  treatment: choice({ label: 'Treatment', options: plainOptions(words.treatmentKinds) }),
  agent: text({
    label: 'Acid or agent',
    optional: true,
    suggestions: ['Phosphoric acid', 'Sulphuric acid', 'Acidified ammonium persulphate'],
  }),
  ph: decimal({ label: 'pH reached', optional: true }),
  tempC: temperature({ label: 'Warmest the yeast got', optional: true }),
  minutes: decimal({
    label: 'How long',
    unit: 'minutes',
    unitWords: 'minutes',
    marks: ['min', 'minute'],
    optional: true,
  }),
  addedL: yeast({
    label: unit === 'L' ? 'Liquid added' : 'Liquid added (the weight of the lot stays as it was)',
    measuredIn: 'L',
    optional: true,
    hint: 'The lot grows by it. A count made before no longer holds: count it again.',
  }),
  note: note(),
});

type Props = {
  lot: LotStanding;
  done?: Standing<EntryOf<'treatment'>> | undefined;
  onSaved: () => void;
};

export function TreatmentForm({ lot, done, onSaved }: Props) {
  const fields = fieldsFor(lot.unit);
  const form = useForm({
    key: `treatment.${done?.entryId ?? lot.id}`,
    fields,
    start: done === undefined ? { treatment: 'acid wash' } : startFrom(fields, done.body),
    entry: (values) => ({ kind: 'treatment', lotId: lot.id, ...values }),
    corrects: done,
    onSaved,
  });
  const { treatment, ...washed } = form.values;
  const isWash = treatment === 'acid wash';
  return (
    <Form form={form} save={done ? 'Save the correction' : 'Save the treatment'}>
      <Field form={form} name="treatment" />
      {isWash && <AcidCaution />}
      {treatment !== 'sieving' && <Field form={form} name="agent" />}
      {isWash && (
        <>
          <Field form={form} name="ph" />
          <Field form={form} name="tempC" />
          <Field form={form} name="minutes" />
          <OutOfBounds {...washed} />
        </>
      )}
      {treatment !== 'sieving' && <Field form={form} name="addedL" />}
      <Field form={form} name="note" />
    </Form>
  );
}

function AcidCaution() {
  return (
    <Caution title="Acid burns skin and eyes">
      <p>
        Goggles and gloves. Acid goes into water, never water into acid. Chill the acid, and keep
        the yeast at {shownTemperature(acidWash.warmestC)} or below; stir well; pH {acidWash.lowPh}{' '}
        to {acidWash.highPh}, about {acidWash.persulphatePh} for persulphate, which can set off
        asthma. Two hours at most, then pitch at once: washed yeast is not stored. It kills no wild
        yeast. (Simpson and Hammond 1989; Oxford Companion to Beer.)
      </p>
    </Caution>
  );
}

type Washed = {
  ph?: number | undefined;
  tempC?: number | undefined;
  minutes?: number | undefined;
  agent?: string | undefined;
};

/** What went beyond the published bounds; it is recorded all the same. */
function OutOfBounds({ ph, tempC, minutes, agent }: Washed) {
  const highPh = /persul/i.test(agent ?? '') ? acidWash.persulphatePh : acidWash.highPh;
  const found = [
    ph !== undefined && (ph < acidWash.lowPh || ph > highPh)
      ? `pH ${ph} lies outside ${acidWash.lowPh} to ${highPh}.`
      : '',
    tempC !== undefined && tempC > acidWash.warmestC
      ? `${shownTemperature(tempC)} is warmer than ${shownTemperature(acidWash.warmestC)}: stain it before use.`
      : '',
    minutes !== undefined && minutes > acidWash.longestMinutes
      ? `${minutes} minutes is longer than two hours: stain it before use.`
      : '',
  ].filter((sentence) => sentence !== '');
  if (found.length === 0) return null;
  return (
    <div class="warning">
      {found.map((sentence) => (
        <p key={sentence}>{sentence}</p>
      ))}
    </div>
  );
}
