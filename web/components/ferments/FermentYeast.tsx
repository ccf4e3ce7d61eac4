import { useState } from 'preact/hooks';
import type { FermentStanding } from '#shared/views/ferments.ts';
import { cells, enteredAmount, generation, moment } from '../../format.ts';
import { AmendBox, AmendButtons, type Amending, StrikeOut } from '../form/Amend.tsx';
import { Field } from '../form/Field.tsx';
import { Form } from '../form/Form.tsx';
import { amountEntry, note, yeast } from '../form/fields.ts';
import { startFrom } from '../form/startFrom.ts';
import { useForm } from '../form/useForm.ts';
import { type Column, RuledTable } from '../frame/RuledTable.tsx';

type Pitch = FermentStanding['pitches'][number];
type Crop = FermentStanding['crops'][number];

type FermentYeastProps = { ferment: FermentStanding; onAmended: () => void };

/** The yeast that went into a ferment and the yeast that came out of it. */
export function FermentYeast({ ferment, onAmended }: FermentYeastProps) {
  return (
    <>
      <h2>Yeast in</h2>
      <PitchTable pitches={ferment.pitches} onAmended={onAmended} />
      <h2>Yeast out</h2>
      <RuledTable
        caption="Crops of this ferment"
        quiet
        columns={cropColumns}
        rows={ferment.crops}
        keyOf={({ lotId }) => lotId}
        empty="Nothing cropped yet."
      />
    </>
  );
}

const cropColumns: Column<Crop>[] = [
  { head: 'Lot', names: true, cell: ({ lotId, code }) => <LotLink id={lotId} code={code} /> },
  { head: 'Cut', cell: ({ cut }) => cut },
  { head: 'When', cell: ({ at }) => moment(at) },
];

function LotLink({ id, code }: { id: string; code: string }) {
  return (
    <a class="together" href={`/yeast/${id}`}>
      {code}
    </a>
  );
}

function PitchTable({ pitches, onAmended }: { pitches: readonly Pitch[]; onAmended: () => void }) {
  const [amending, setAmending] = useState<Amending<Pitch> | null>(null);
  const done = () => {
    setAmending(null);
    onAmended();
  };
  return (
    <>
      <RuledTable
        caption="Pitches of this ferment"
        quiet
        columns={pitchColumns(setAmending)}
        rows={pitches}
        keyOf={({ id }) => id}
        empty="Not pitched yet."
      />
      {amending && (
        <AmendBox
          key={`${amending.record.id} ${amending.how}`}
          title={`${amending.how === 'correct' ? 'Correct' : 'Strike out'} the pitch of ${amending.record.lotCode}`}
          onLeave={() => setAmending(null)}
        >
          {amending.how === 'correct' ? (
            <PitchCorrection pitch={amending.record} onSaved={done} />
          ) : (
            <StrikeOut entryId={amending.record.entryId} onDone={done} />
          )}
        </AmendBox>
      )}
    </>
  );
}

function pitchColumns(amend: (amending: Amending<Pitch>) => void): Column<Pitch>[] {
  return [
    {
      head: 'Lot',
      names: true,
      cell: ({ lotId, lotCode }) => <LotLink id={lotId} code={lotCode} />,
    },
    { head: 'Generation', cell: (pitch) => generation(pitch.generation) },
    { head: 'Amount', numeric: true, cell: enteredAmount },
    {
      head: 'Live cells expected',
      numeric: true,
      cell: ({ expectedViableCells }) =>
        expectedViableCells === undefined ? '' : cells(expectedViableCells),
    },
    { head: 'When', cell: ({ happenedAt }) => <span class="together">{moment(happenedAt)}</span> },
    { head: 'By', cell: ({ by }) => by },
    {
      head: 'Put right',
      pressed: true,
      cell: (record) => (
        <AmendButtons
          what={`the pitch of ${record.lotCode}`}
          onCorrect={() => amend({ record, how: 'correct' })}
          onStrike={() => amend({ record, how: 'strike' })}
        />
      ),
    },
  ];
}

function PitchCorrection({ pitch, onSaved }: { pitch: Pitch; onSaved: () => void }) {
  const unit = pitch.amountKg === undefined ? 'L' : 'kg';
  const fields = { amount: yeast({ label: 'Amount pitched', measuredIn: unit }), note: note() };
  const { fermentId, lotId, override, slurryCorrection } = pitch;
  const form = useForm({
    key: `pitch.${pitch.id}`,
    fields,
    start: startFrom(fields, { ...pitch, amount: pitch.amountL ?? pitch.amountKg }),
    // The cells expected go with the amount.
    entry: ({ amount, note: said }) => ({
      kind: 'pitch',
      fermentId,
      lotId,
      override,
      slurryCorrection,
      ...amountEntry(unit, amount),
      ...scaledCells(pitch, amount),
      note: said,
    }),
    onSaved,
    corrects: pitch,
  });
  return (
    <Form form={form} save="Save the correction">
      <Field form={form} name="amount" />
      <Field form={form} name="note" />
    </Form>
  );
}

function scaledCells(pitch: Pitch, amount: number | undefined) {
  const before = pitch.amountL ?? pitch.amountKg;
  if (amount === undefined || before === undefined) return {};
  const scaled = (value: number | undefined) =>
    value === undefined ? undefined : (value * amount) / before;
  return {
    expectedViableCells: scaled(pitch.expectedViableCells),
    expectedLowCells: scaled(pitch.expectedLowCells),
    expectedHighCells: scaled(pitch.expectedHighCells),
  };
}
