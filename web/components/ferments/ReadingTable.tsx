import { useState } from 'preact/hooks';
import { hourMs } from '#shared/durations.ts';
import { cellConcentration } from '#shared/science/cellCount.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import { duration, figure, fixed, gravity, moment, temperature } from '../../format.ts';
import { AmendBox, AmendButtons, type Amending, StrikeOut } from '../form/Amend.tsx';
import { type Column, RuledTable } from '../frame/RuledTable.tsx';
import { ReadingForm } from './ReadingForm.tsx';

type Reading = Recorded<'reading'>;
type ReadingTableProps = {
  readings: readonly Reading[];
  pitchedAt: string | null;
  onAmended: () => void;
};

/** The readings of a ferment, newest first, each open to correction. */
export function ReadingTable({ readings, pitchedAt, onAmended }: ReadingTableProps) {
  const [amending, setAmending] = useState<Amending<Reading> | null>(null);
  const done = () => {
    setAmending(null);
    onAmended();
  };
  return (
    <>
      <RuledTable
        caption="Readings, newest first"
        quiet
        columns={columnsFor(readings, pitchedAt, setAmending)}
        rows={readings.toSorted((a, b) => b.happenedAt.localeCompare(a.happenedAt))}
        keyOf={({ id }) => id}
        empty="No reading yet."
        atFirst={15}
      />
      {amending && (
        <AmendBox
          key={`${amending.record.id} ${amending.how}`}
          title={`${amending.how === 'correct' ? 'Correct' : 'Strike out'} the reading of ${moment(amending.record.happenedAt)}`}
          onLeave={() => setAmending(null)}
        >
          {amending.how === 'correct' ? (
            <ReadingForm
              fermentId={amending.record.fermentId}
              record={amending.record}
              onSaved={done}
            />
          ) : (
            <StrikeOut entryId={amending.record.entryId} onDone={done} />
          )}
        </AmendBox>
      )}
    </>
  );
}

const shown = (value: number | undefined, show: (value: number) => string) =>
  value === undefined ? '' : show(value);

function columnsFor(
  readings: readonly Reading[],
  pitchedAt: string | null,
  amend: (amending: Amending<Reading>) => void,
): Column<Reading>[] {
  return [
    {
      head: 'When',
      names: true,
      cell: ({ happenedAt, corrected }) => (
        <span class="together">
          {moment(happenedAt)}
          {corrected && <small> corrected</small>}
        </span>
      ),
    },
    {
      head: 'Since pitching',
      numeric: true,
      cell: ({ happenedAt }) => after(pitchedAt, happenedAt),
    },
    { head: 'Gravity', numeric: true, cell: ({ gravitySg }) => shown(gravitySg, gravity) },
    { head: 'Temperature', numeric: true, cell: ({ tempC }) => shown(tempC, temperature) },
    ...seldomColumns.filter(({ of }) => readings.some((reading) => knows(reading, of))),
    { head: 'By', cell: ({ by }) => by },
    {
      head: 'Put right',
      pressed: true,
      cell: (record) => (
        <AmendButtons
          what={`the reading of ${moment(record.happenedAt)}`}
          onCorrect={() => amend({ record, how: 'correct' })}
          onStrike={() => amend({ record, how: 'strike' })}
        />
      ),
    },
  ];
}

/** Shown only where a reading has them, so that the table stays narrow enough for a phone. */
const seldomColumns: (Column<Reading> & { of: 'ph' | 'cellsPerMl' | 'note' })[] = [
  {
    of: 'ph',
    head: 'pH',
    numeric: true,
    cell: ({ ph }) => shown(ph, (value) => fixed(value, 2)),
  },
  {
    of: 'cellsPerMl',
    head: 'Million cells/mL',
    numeric: true,
    cell: (reading) => shown(suspended(reading), (value) => figure(value / 1e6)),
  },
  { of: 'note', head: 'Note', cell: ({ note }) => note },
];

/** Where squares were counted, what they amount to; else the figure written down. */
const suspended = ({ count, cellsPerMl }: Reading) =>
  count === undefined ? cellsPerMl : cellConcentration(count).cellsPerMl;

const knows = (reading: Reading, of: 'ph' | 'cellsPerMl' | 'note') =>
  (of === 'cellsPerMl' ? suspended(reading) : reading[of]) !== undefined;

function after(pitchedAt: string | null, happenedAt: string): string {
  if (pitchedAt === null) return '';
  const hours = (Date.parse(happenedAt) - Date.parse(pitchedAt)) / hourMs;
  return hours < 0 ? 'before' : duration(hours);
}
