import type { EntryOf } from '#shared/entries/entry.ts';
import type { LotPage } from '../../apiClient.ts';
import { PlateForm, PlateResultForm } from '../bench/PlateForms.tsx';
import { TreatmentForm } from '../bench/TreatmentForm.tsx';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { amountEntry, note, text, yeast } from '../form/fields.ts';
import type { HistoryRow, Standing } from '../form/standingEntries.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';
import { LotRecordForm } from './LotRecordForm.tsx';
import { DiscardForm, HoldForm, ReleaseForm, StoreTemperatureForm } from './StoreForms.tsx';
import { TransferForm } from './TransferForm.tsx';

type Props = { lot: LotPage; row: HistoryRow; onSaved: () => void };

/** The form that puts an entry of a lot right. */
export function LotCorrection({ lot, row, onSaved }: Props) {
  const { id: entryId, happenedAt, body } = row;
  const as = <E extends typeof body>(entry: E) => ({ entryId, happenedAt, body: entry });
  const common = { lot, onSaved };
  switch (body.kind) {
    case 'freshCulture':
    case 'crop':
    case 'blend':
      return <LotRecordForm {...common} done={as(body)} />;
    case 'transfer':
      return <TransferForm {...common} done={as(body)} />;
    case 'pitch':
      return <PitchAmountForm {...common} done={as(body)} />;
    case 'storeReading':
      return <StoreTemperatureForm {...common} done={as(body)} />;
    case 'hold':
      return <HoldForm {...common} done={as(body)} />;
    case 'release':
      return <ReleaseForm {...common} done={as(body)} />;
    case 'discard':
      return <DiscardForm {...common} done={as(body)} />;
    case 'treatment':
      return <TreatmentForm {...common} done={as(body)} />;
    case 'microCheck':
      return <PlateForm {...common} done={as(body)} />;
    case 'microResult':
      return <PlateResultForm {...common} done={as(body)} />;
    case 'familyHold':
    case 'familyRelease':
      return <HoldReason done={as(body)} onSaved={onSaved} />;
    default:
      return (
        <p>
          Counts and stains are corrected <a href={`/bench?lot=${lot.id}`}>at the bench</a>.
        </p>
      );
  }
}

type HoldProps = {
  done: Standing<EntryOf<'familyHold' | 'familyRelease'>>;
  onSaved: () => void;
};

const reasonFields = { why: text({ label: 'Why' }) };

/** What a hold of a family touches stands; its reason can be put right. */
function HoldReason({ done, onSaved }: HoldProps) {
  const form = useForm({
    key: `family.${done.entryId}`,
    fields: reasonFields,
    start: startFrom(reasonFields, done.body),
    entry: ({ why }) => {
      const { happenedAt, by, supersedes, reason, ...kept } = done.body;
      return { ...kept, why };
    },
    corrects: done,
    onSaved,
  });
  return (
    <Form form={form} save="Save the correction">
      <Field form={form} name="why" />
    </Form>
  );
}

type PitchProps = { lot: LotPage; done: Standing<EntryOf<'pitch'>>; onSaved: () => void };

function PitchAmountForm({ lot, done, onSaved }: PitchProps) {
  const fields = { amount: yeast({ label: 'Amount put in', measuredIn: lot.unit }), note: note() };
  const { amountL, amountKg } = done.body;
  const form = useForm({
    key: `pitch.${done.entryId}`,
    fields,
    start: {
      ...startFrom(fields, done.body),
      amount: fields.amount.show(amountL ?? amountKg ?? 0),
    },
    entry: ({ amount, note: said }) => ({
      kind: 'pitch',
      fermentId: done.body.fermentId,
      lotId: lot.id,
      override: done.body.override,
      slurryCorrection: done.body.slurryCorrection,
      note: said,
      ...amountEntry(lot.unit, amount),
      ...scaledCells(done.body, amount),
    }),
    corrects: done,
    onSaved,
  });
  return (
    <Form form={form} save="Save the correction">
      <Field form={form} name="amount" />
      <Field form={form} name="note" />
    </Form>
  );
}

/** The cells expected grow and shrink with the amount. */
function scaledCells(
  { amountL, amountKg, ...pitch }: EntryOf<'pitch'>,
  amount: number | undefined,
) {
  const before = amountL ?? amountKg;
  const factor = before === undefined || amount === undefined ? 1 : amount / before;
  const scaled = (value: number | undefined) => (value === undefined ? undefined : value * factor);
  return {
    expectedViableCells: scaled(pitch.expectedViableCells),
    expectedLowCells: scaled(pitch.expectedLowCells),
    expectedHighCells: scaled(pitch.expectedHighCells),
  };
}
