import type { ComponentChildren } from 'preact';
import type { Entry } from '#shared/entries/entry.ts';
import { entryChanges } from '#shared/entryChanges.ts';
import { entryFacts, entryNames } from '../../entryWords.ts';
import { factWords, fieldWords } from '../../factWords.ts';
import { moment } from '../../format.ts';
import type { HistoryRow } from '../form/standingEntries.ts';
import { type Column, RuledTable } from '../frame/RuledTable.tsx';

type Props = {
  caption: string;
  rows: readonly HistoryRow[];
  /** What can be done with an entry that still stands. */
  amend?: (row: HistoryRow) => ComponentChildren;
};

/** Everything written, newest first; what no longer stands is struck through, never gone. */
export function HistoryTable({ caption, rows, amend }: Props) {
  const bodies = new Map(rows.map(({ id, body }) => [id, body]));
  return (
    <RuledTable
      caption={caption}
      quiet
      rows={rows}
      keyOf={({ id }) => id}
      struck={({ isStruck }) => isStruck}
      atFirst={15}
      columns={[
        ...columns(bodies),
        ...(rows.some(({ reason }) => reason !== null) ? [whyChanged] : []),
        ...(amend === undefined ? [] : [putRight(amend)]),
      ]}
    />
  );
}

export const entryTitle = ({ kind, happenedAt }: Pick<HistoryRow, 'kind' | 'happenedAt'>) =>
  `${entryNames[kind]}, ${moment(happenedAt)}`;

function columns(bodies: ReadonlyMap<string, Entry>): Column<HistoryRow>[] {
  return [
    {
      head: 'When',
      names: true,
      cell: ({ happenedAt, recordId, supersedes, timeRemarks }) => (
        <>
          <span id={supersedes === null ? `entry-${recordId}` : undefined}>
            {moment(happenedAt)}
          </span>
          {timeRemarks.map((remark) => (
            <small key={remark} class="time-remark">
              {remark}
            </small>
          ))}
        </>
      ),
    },
    {
      head: 'What was written',
      wordy: true,
      plain: true,
      cell: (row) => {
        const before = bodies.get(row.supersedes ?? '');
        return (
          <>
            <strong>{entryNames[row.kind]}</strong> {entryFacts(row.body)}
            {before !== undefined && row.body.kind !== 'void' && before.kind !== 'void' && (
              <Changes before={before} after={row.body} />
            )}
          </>
        );
      },
    },
    { head: 'Who', plain: true, cell: (row) => <Writer row={row} /> },
  ];
}

const whyChanged: Column<HistoryRow> = {
  head: 'Why changed',
  wordy: true,
  cell: ({ reason, receivedAt }) =>
    reason === null ? '' : `${reason} (written down ${moment(receivedAt)})`,
};

/** Who did it, and who wrote it down where that was someone or something else. */
function Writer({ row: { by, enteredBy } }: { row: HistoryRow }) {
  const { via, name } = enteredBy;
  if (via === 'web' && name === by) return <>{by}</>;
  return (
    <>
      {by} <small>{`(${enteredWords[via]} ${name})`}</small>
    </>
  );
}

const enteredWords: Record<HistoryRow['enteredBy']['via'], string> = {
  web: 'entered by',
  device: 'sent by the device',
  import: 'brought in by',
  system: 'entered by the tool:',
};

const putRight = (amend: (row: HistoryRow) => ComponentChildren): Column<HistoryRow> => ({
  head: 'Put right',
  pressed: true,
  cell: (row) => {
    if (row.isStruck) return 'no longer stands';
    return row.kind === 'void' ? '' : amend(row);
  },
});

/** Each fact that was put right: the old value struck through, the new one after it. */
function Changes({ before, after }: { before: Entry; after: Entry }) {
  return (
    <ul class="changes">
      {entryChanges(before, after).map(({ field, before: was, after: is }) => (
        <li key={field}>
          {fieldWords(field)}: <s>{factWords(field, was)}</s> {factWords(field, is)}
        </li>
      ))}
    </ul>
  );
}
