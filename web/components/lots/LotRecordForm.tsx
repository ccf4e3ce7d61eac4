import type { EntryOf } from '#shared/entries/entry.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import { firstGeneration } from '../../settings.ts';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { amountEntry, amountIn, note, text, whole, yeast, yeastEitherWay } from '../form/fields.ts';
import type { Standing } from '../form/standingEntries.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';

type LotEntry = EntryOf<'crop' | 'freshCulture' | 'blend'>;

const fields = {
  amountIn: amountIn(),
  amount: yeastEitherWay({ label: 'Amount' }),
  container: text({ label: 'Container', optional: true }),
  place: text({ label: 'Place', optional: true }),
  code: text({ label: 'Lot code', capitals: true, optional: true }),
  generation: whole({ label: 'Generation' }),
  note: note(),
};

type Props = { lot: LotStanding; done: Standing<LotEntry>; onSaved: () => void };

/** Corrects what was written when the lot came to be. */
export function LotRecordForm({ lot, done, onSaved }: Props) {
  const { body } = done;
  const isFresh = body.kind === 'freshCulture';
  const unit = body.amountL === undefined ? 'kg' : 'L';
  const first = firstGeneration.value;
  const form = useForm({
    key: `lot.${done.entryId}`,
    fields,
    start: {
      ...startFrom(fields, body),
      code: lot.code,
      amountIn: unit,
      amount: yeast({ label: '', measuredIn: unit }).show(body.amountL ?? body.amountKg ?? 0),
      generation: isFresh ? String(body.generation + first) : '0',
    },
    entry: ({ amountIn: newUnit, amount, generation, ...rest }) => {
      const { amountL, amountKg, happenedAt, by, supersedes, reason, ...kept } = body;
      const changed = { ...rest, ...amountEntry(newUnit, amount) };
      return kept.kind === 'freshCulture'
        ? { ...kept, ...changed, generation: (generation ?? Number.NaN) - first }
        : { ...kept, ...changed };
    },
    corrects: done,
    onSaved,
  });
  return (
    <Form form={form} save="Save the correction">
      <Field form={form} name="amountIn" />
      <Field form={form} name="amount" />
      {isFresh && <Field form={form} name="generation" />}
      <Field form={form} name="container" />
      <Field form={form} name="place" />
      <Field form={form} name="code" />
      <Field form={form} name="note" />
    </Form>
  );
}
