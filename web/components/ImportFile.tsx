import { type SheetColumn, sheetColumns } from '#shared/imports/sheets.ts';
import type { ImportPreview } from '../importsClient.ts';
import { PlainSelect } from './PlainSelect.tsx';
import { RuledTable } from './RuledTable.tsx';
import { Tag } from './Status.tsx';
import { sheetWords } from './sheetWords.ts';
import type { ChosenFile } from './useImport.ts';

type ReadFile = ImportPreview['sheets'][number];
type Props = {
  file: ChosenFile;
  read: ReadFile | undefined;
  onChange: (to: Partial<ChosenFile>) => void;
  onRemove: () => void;
};

const shownProblems = 50;

/** One file as it was read: which of its columns is which, its first rows, and what is wrong. */
export function ImportFile({ file, read, onChange, onRemove }: Props) {
  const title = `${sheetWords[file.kind]}: ${file.name}`;
  return (
    <section class="opened" aria-label={title}>
      <h3>
        {title}{' '}
        {read !== undefined && (
          <Tag tone={read.problems.length === 0 ? 'good' : 'watch'}>
            {read.problems.length === 0 ? `${read.rows} rows read` : 'needs another look'}
          </Tag>
        )}
      </h3>
      {read !== undefined && (
        <>
          <Problems read={read} columns={sheetColumns[file.kind]} />
          <details class="more" open={Object.keys(read.mapping).length === 0}>
            <summary>Which column is which</summary>
            <div class="units-row">
              {sheetColumns[file.kind].map(({ key, label, isNeeded }) => (
                <PlainSelect
                  key={key}
                  label={isNeeded ? label : `${label} (may be left out)`}
                  value={read.mapping[key] ?? ''}
                  options={['', ...read.headings]}
                  words={{ '': 'Not in the file' }}
                  onChange={(heading) => onChange({ mapping: matched(read.mapping, key, heading) })}
                />
              ))}
            </div>
          </details>
          <Sample read={read} columns={sheetColumns[file.kind]} />
        </>
      )}
      <p>
        <button type="button" class="link" onClick={onRemove}>
          Leave this file out
        </button>
      </p>
    </section>
  );
}

function matched(mapping: Record<string, string>, key: string, heading: string) {
  const others = Object.entries(mapping).filter(([name]) => name !== key);
  return Object.fromEntries(heading === '' ? others : [...others, [key, heading]]);
}

type Shown = { read: ReadFile; columns: readonly SheetColumn[] };

function Problems({ read, columns }: Shown) {
  if (read.problems.length === 0) return null;
  return (
    <RuledTable
      caption={
        read.problems.length > shownProblems
          ? `The first ${shownProblems} rows that need another look`
          : 'Rows that need another look'
      }
      rows={read.problems.slice(0, shownProblems)}
      keyOf={({ row, column, message }) => `${row} ${column} ${message}`}
      columns={[
        { head: 'Row', numeric: true, names: true, cell: ({ row }) => row },
        {
          head: 'Column',
          cell: ({ column }) => columns.find(({ key }) => key === column)?.label ?? column,
        },
        { head: 'What is wrong', cell: ({ message }) => message },
      ]}
    />
  );
}

function Sample({ read, columns }: Shown) {
  const used = columns.filter(({ key }) => read.mapping[key] !== undefined);
  if (used.length === 0) return null;
  const rows = read.sample.map((cells, at) => ({ cells, at }));
  return (
    <RuledTable
      caption="The first rows as they were read"
      rows={rows}
      keyOf={({ at }) => String(at)}
      columns={used.map(({ key, label }) => ({
        head: label,
        cell: ({ cells }: (typeof rows)[number]) => cells[key],
      }))}
    />
  );
}
