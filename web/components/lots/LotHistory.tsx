import { useState } from 'preact/hooks';
import type { LotPage } from '../../apiClient.ts';
import { AmendBox, AmendButtons, StrikeOut } from '../form/Amend.tsx';
import { type HistoryRow, historyRows } from '../form/standingEntries.ts';
import { entryTitle, HistoryTable } from '../history/HistoryTable.tsx';
import { LotCorrection } from './LotCorrection.tsx';

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
      <HistoryTable
        caption={`Everything written about ${lot.code}, newest first`}
        rows={historyRows(lot.history)}
        amend={(row) => (
          <AmendButtons
            what={entryTitle(row)}
            onCorrect={() => setAmended({ row, how: 'correct' })}
            onStrike={() => setAmended({ row, how: 'strike' })}
          />
        )}
      />
      {amended && (
        <AmendBox
          key={`${amended.row.id} ${amended.how}`}
          title={`${amended.how === 'correct' ? 'Correct' : 'Strike out'}: ${entryTitle(amended.row)}`}
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
