import type { FermentStanding, LotStanding } from '#shared/views.ts';
import { amountFigure, gravity, volume } from '../format.ts';
import { Caution } from './Caution.tsx';
import { Field } from './Field.tsx';
import { Form } from './Form.tsx';
import { amountEntry, decimal, note, select, text, yeast } from './fields.ts';
import { announce } from './Notice.tsx';
import { PitchResult } from './PitchResult.tsx';
import { needsReason, pitchedAmounts, pitchRefusals, sumOf, usesOf } from './pitchValues.ts';
import { useForm } from './useForm.ts';

type Props = {
  ferments: readonly FermentStanding[];
  lots: readonly LotStanding[];
  startFerment: string | undefined;
  startLot: string | undefined;
  onPitched: () => void;
};

/** Chooses gyle and yeast, shows the sum as it is typed, and records one pitch for each lot. */
export function PitchForm({ ferments, lots, startFerment, startLot, onPitched }: Props) {
  const known = { ferments, lots };
  const gyles = ferments.map(({ id, record, vessel }) => ({
    value: id,
    label: `${record.gyle} ${record.beer}, ${vessel}`,
  }));
  const inOrder = bestFirst(
    lots,
    ferments.find(({ id }) => id === startFerment),
  );
  const first = startLot ?? inOrder[0]?.id;
  const lotOptions = inOrder.map((lot) => ({
    value: lot.id,
    label: `${lot.code}, ${lot.verdict.verdict}, ${amountFigure(lot.left, lot.unit)} ${lot.unit} left`,
  }));
  const chosenUnit = (id: string | undefined) => lots.find((lot) => lot.id === id)?.unit ?? 'L';
  const form = useForm({
    key: 'pitch',
    fields: {
      fermentId: select({ label: 'Gyle', options: gyles }),
      rate: decimal({
        label: 'Pitching rate',
        unit: 'M/mL/°P',
        unitWords: 'million living cells per mL per °P',
      }),
      firstLot: select({ label: 'Yeast', options: lotOptions }),
      firstUse: yeast({ label: 'Amount put in', optional: true, measuredIn: chosenUnit(first) }),
      secondLot: select({ label: 'And from', optional: true, options: lotOptions }),
      secondUse: yeast({ label: 'Amount put in of it', optional: true, measuredIn: 'L' }),
      thirdLot: select({ label: 'And from a third', optional: true, options: lotOptions }),
      thirdUse: yeast({ label: 'Amount put in of the third', optional: true, measuredIn: 'L' }),
      override: text({ label: 'Why it is pitched all the same', optional: true }),
      note: note(),
    },
    start: {
      fermentId: startFerment,
      firstLot: first,
      rate: String(
        ferments.find(({ id }) => id === startFerment)?.strain.rateMillionPerMlPerPlato ?? 0.75,
      ),
    },
    entry: (values) =>
      pitchedAmounts(values, known).map(({ lot, amount, cells }) => ({
        kind: 'pitch' as const,
        fermentId: values.fermentId,
        lotId: lot.id,
        ...amountEntry(lot.unit, amount),
        expectedViableCells: cells,
        override: lot.verdict.verdict === 'fit' ? undefined : values.override,
        note: values.note,
      })),
    alsoCheck: (values) => pitchRefusals(values, known),
    fieldAt: (path) =>
      path.startsWith('amount') ? 'firstUse' : path === 'lotId' ? 'firstLot' : undefined,
    onSaved: (saved) => {
      announce(saved.length === 1 ? 'Pitch recorded' : `${saved.length} pitches recorded`, {
        link: { href: '/ferments', label: 'Ferments' },
      });
      onPitched();
    },
  });

  const values = form.values;
  const ferment = ferments.find(({ id }) => id === values.fermentId);
  const chosen = usesOf(values, known);
  const needsOverride = chosen.some(
    ({ lot }) => lot.held !== null || lot.verdict.verdict === 'past it',
  );
  return (
    <div class="beside">
      <Form form={form} save="Record the pitch">
        <Field form={form} name="fermentId" />
        {ferment !== undefined && (
          <p class="field-hint">
            {volume(ferment.record.volumeL)} at {gravity(ferment.record.originalGravitySg)},{' '}
            {ferment.strain.name}
          </p>
        )}
        <Field form={form} name="rate" />
        <Field form={form} name="firstLot" />
        <Field form={form} name="firstUse" />
        {values.firstLot !== undefined && lots.length > 1 && <Field form={form} name="secondLot" />}
        {values.secondLot !== undefined && <Field form={form} name="secondUse" />}
        {values.secondLot !== undefined && lots.length > 2 && <Field form={form} name="thirdLot" />}
        {values.thirdLot !== undefined && <Field form={form} name="thirdUse" />}
        {needsOverride && <Field form={form} name="override" />}
        <Field form={form} name="note" />
        <Caution title="Gas above the wort">
          <p>Carbon dioxide may lie in and over the FV. Check the air, and do not lean in alone.</p>
        </Caution>
      </Form>
      <PitchResult sum={sumOf(values, known)} uses={chosen} />
    </div>
  );
}

// Fit before doubtful, of the gyle's own strain, the oldest first: it will not keep.
function bestFirst(lots: readonly LotStanding[], ferment: FermentStanding | undefined) {
  const order = ['fit', 'test first', 'hold', 'past it'];
  const rank = (lot: LotStanding) =>
    order.indexOf(lot.verdict.verdict) + (lot.strain.id === ferment?.strain.id ? 0 : 10);
  return lots.toSorted((a, b) => rank(a) - rank(b) || b.ageHours - a.ageHours);
}
