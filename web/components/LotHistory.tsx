import { useState } from 'preact/hooks';
import type { LotPage } from '../apiClient.ts';
import { entryFacts, entryNames } from '../entryWords.ts';
import { moment } from '../format.ts';
import { AmendBox, AmendButtons, StrikeOut } from './Amend.tsx';
import { LotCorrection } from './LotCorrection.tsx';
import { type Column, RuledTable } from './RuledTable.tsx';
import { type HistoryRow, historyRows } from './standingEntries.ts';

type Props = { lot: LotPage; onAmended: (text: string) => void };
type Amended = { row: HistoryRow; how: 'correct' | 'strike' };

/** Everything ever written about a lot; what was corrected stays legible, struck through. */
export function LotHistory({ lot, onAmended }: Props) {
  const [amended, setAmended] = useState<Amended | null>(null);
  const done = (text: string) => () => {
    setAmended(null);
    onAmended(text);
  };
  return (
    <>
      <h2>History</h2>
      <RuledTable
        caption={`Everything written about ${lot.code}, newest first`}
        quiet
        rows={historyRows(lot.history)}
        keyOf={({ id }) => id}
        anchorOf={({ id }) => `entry-${id}`}
        struck={({ isStruck }) => isStruck}
        columns={columnsFor((row, how) => setAmended({ row, how }))}
      />
      {amended && (
        <AmendBox
          key={`${amended.row.id} ${amended.how}`}
          title={`${amended.how === 'correct' ? 'Correct' : 'Strike out'}: ${nameOf(amended.row)}`}
          onLeave={() => setAmended(null)}
        >
          {amended.how === 'strike' ? (
            <StrikeOut entryId={amended.row.id} onDone={done('Struck out.')} />
          ) : (
            <LotCorrection lot={lot} row={amended.row} onSaved={done('Corrected.')} />
          )}
        </AmendBox>
      )}
    </>
  );
}

const nameOf = ({ kind, happenedAt }: HistoryRow) => `${entryNames[kind]}, ${moment(happenedAt)}`;

type Amend = (row: HistoryRow, how: Amended['how']) => void;

function columnsFor(amend: Amend): Column<HistoryRow>[] {
  return [
    { head: 'When', names: true, cell: ({ happenedAt }) => moment(happenedAt) },
    {
      head: 'What was written',
      cell: ({ kind, body }) => (
        <>
          <strong>{entryNames[kind]}</strong> {entryFacts(body)}
        </>
      ),
    },
    { head: 'Who', cell: ({ by }) => by },
    { head: 'Why changed', cell: ({ reason }) => reason ?? '' },
    {
      head: 'Put right',
      cell: (row) =>
        row.isStruck || row.kind === 'void' ? (
          row.isStruck && 'no longer stands'
        ) : (
          <AmendButtons
            what={nameOf(row)}
            onCorrect={() => amend(row, 'correct')}
            onStrike={() => amend(row, 'strike')}
          />
        ),
    },
  ];
}
