import { useState } from 'preact/hooks';
import type { JournalRow } from '../../apiClient.ts';
import { AmendBox, StrikeOut } from '../form/Amend.tsx';
import { type HistoryRow, historyRows } from '../form/standingEntries.ts';
import { entryTitle, HistoryTable } from './HistoryTable.tsx';

type Props = {
  /** Of what: "gyle 412". */
  what: string;
  history: readonly JournalRow[];
  onStruck: () => void;
};

/** Everything ever written about a record, each entry to be struck out for a reason. */
export function HistoryOf({ what, history, onStruck }: Props) {
  const [row, setRow] = useState<HistoryRow | null>(null);
  return (
    <>
      <h2>History</h2>
      <HistoryTable
        caption={`Everything written about ${what}, newest first`}
        rows={historyRows(history)}
        amend={(each) => (
          <button type="button" class="link" onClick={() => setRow(each)}>
            Strike out<span class="unseen"> {entryTitle(each)}</span>
          </button>
        )}
      />
      {row !== null && (
        <AmendBox
          key={row.id}
          title={`Strike out: ${entryTitle(row)}`}
          onLeave={() => setRow(null)}
        >
          <StrikeOut
            entryId={row.id}
            onDone={() => {
              setRow(null);
              onStruck();
            }}
          />
        </AmendBox>
      )}
    </>
  );
}
