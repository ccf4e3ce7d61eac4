import type { Medium } from '#shared/micro/media.ts';
import { plateReadings } from '#shared/words.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { check, choice, decimal, note, temperature, text } from '../form/fields.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';

const readingWords = {
  colonies: 'Colonies, against the cells plated',
  share: 'The share of colonies, such as petites',
  presence: 'Whether it is there at all',
} as const;

const fields = {
  name: text({ label: 'Name of the medium' }),
  looksFor: text({
    label: 'What it looks for',
    hint: 'With the word “wild”, its plates are judged by the limit for wild yeast.',
  }),
  reads: choice({
    label: 'What is read',
    options: plateReadings.map((value) => ({ value, label: readingWords[value] })),
  }),
  readAfterDays: decimal({ label: 'Read after', unit: 'days', unitWords: 'days' }),
  tempC: temperature({ label: 'Kept at', optional: true }),
  discardPerMillion: decimal({
    label: 'Thrown away at',
    unit: 'per million',
    unitWords: 'per million cells',
    optional: true,
    hint: 'Published only for wild yeast: 100 (Richards 1968, second hand).',
  }),
  retired: check({ label: 'No longer used' }),
  note: note(),
};

type Props = { medium?: Medium; onSaved: () => void };

/** A preset becomes the house's own with its first change. */
export function MediumForm({ medium, onSaved }: Props) {
  const record = medium?.record ?? undefined;
  const form = useForm({
    key: `medium.${record?.entryId ?? medium?.name ?? 'new'}`,
    fields,
    start: medium === undefined ? { reads: 'colonies' } : startFrom(fields, medium),
    entry: ({ retired, ...values }) => ({
      kind: 'medium',
      ...values,
      retired: retired === true ? true : undefined,
    }),
    corrects: record,
    onSaved,
  });
  return (
    <Form form={form} save={medium ? 'Save the change' : 'Save the medium'} when={false}>
      <Field form={form} name="name" />
      <Field form={form} name="looksFor" />
      <Field form={form} name="reads" />
      <div class="pairs">
        <Field form={form} name="readAfterDays" />
        <Field form={form} name="tempC" />
        <Field form={form} name="discardPerMillion" />
      </div>
      <Field form={form} name="retired" />
      <Field form={form} name="note" />
    </Form>
  );
}
