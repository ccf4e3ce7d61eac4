import type { EntryOf } from '#shared/entries/entry.ts';
import {
  acidWashBounds,
  phBoundsOf,
  type Wash,
  washFindings,
} from '#shared/treatments/acidWash.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Saved } from '../../apiClient.ts';
import { temperature as shownTemperature } from '../../format.ts';
import { Field, problemOf } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import type { Standing } from '../form/standingEntries.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';
import { Caution } from '../frame/Caution.tsx';
import { TreatmentTimer } from './TreatmentTimer.tsx';
import { knownObjections, treatmentFields } from './treatmentFields.ts';

type Props = {
  lot: LotStanding;
  done?: Standing<EntryOf<'treatment'>> | undefined;
  onSaved: (saved: Saved[]) => void;
};

export function TreatmentForm({ lot, done, onSaved }: Props) {
  const fields = treatmentFields(lot.unit);
  const objections = done === undefined ? knownObjections(lot) : [];
  const form = useForm({
    key: `treatment.${done?.entryId ?? lot.id}`,
    fields,
    start: done === undefined ? { treatment: 'acid wash' } : startFrom(fields, done.body),
    entry: ({ override, ...values }) => ({
      kind: 'treatment',
      lotId: lot.id,
      ...values,
      override: values.treatment === 'acid wash' ? override : undefined,
    }),
    corrects: done,
    onSaved,
  });
  const { treatment } = form.values;
  const isSieving = treatment === 'sieving';
  // The log knows of reasons that this page does not.
  const isDoubted =
    objections.length > 0 ||
    problemOf(form, 'override') !== undefined ||
    (form.typed.override ?? '') !== '';
  return (
    <Form form={form} save={done ? 'Save the correction' : 'Save the treatment'}>
      <Field form={form} name="treatment" />
      {treatment === 'acid wash' && (
        <BeforeWash objections={objections} agent={form.values.agent} />
      )}
      {!isSieving && <Field form={form} name="agent" />}
      {treatment === 'acid wash' && (
        <>
          {done === undefined && (
            <TreatmentTimer
              lotId={lot.id}
              code={lot.code}
              onStop={(minutes) => form.set('minutes', String(minutes))}
            />
          )}
          <div class="pair">
            <Field form={form} name="ph" />
            <Field form={form} name="tempC" />
          </div>
          <Field form={form} name="minutes" />
          <Findings {...form.values} />
          {isDoubted && <Field form={form} name="override" />}
        </>
      )}
      {!isSieving && <Field form={form} name="addedL" />}
      <Field form={form} name="note" />
    </Form>
  );
}

type BeforeProps = { objections: readonly string[]; agent: string | undefined };

function BeforeWash({ objections, agent }: BeforeProps) {
  const { low, high } = phBoundsOf(agent);
  return (
    <>
      {objections.length > 0 && (
        <p class="warning">
          This yeast should not be washed: {objections.join('; ')}. Sick yeast and yeast of strong
          beer come out worse (Simpson and Hammond 1989); replace it.
        </p>
      )}
      <Caution title="Acid burns skin and eyes">
        <p>
          Goggles and gloves. Acid goes into water, never water into acid. Chill the acid, and keep
          the yeast at {shownTemperature(acidWashBounds.warmestC)} or below; stir well; pH {low} to{' '}
          {high}. Persulphate can set off asthma. Two hours at most, then pitch at once: washed
          yeast is not stored. It kills no wild yeast. (Simpson and Hammond 1989; Oxford Companion
          to Beer.)
        </p>
      </Caution>
    </>
  );
}

/** What went beyond the published bounds; it is recorded all the same. */
function Findings(wash: Wash) {
  const found = washFindings(wash);
  if (found.length === 0) return null;
  return (
    <div class="warning" role="status">
      {found.map(({ text, source }) => (
        <p key={text}>
          {text}. <small>{source}</small>
        </p>
      ))}
    </div>
  );
}
