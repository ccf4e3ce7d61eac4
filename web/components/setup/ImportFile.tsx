import { type SheetColumn, sheetColumns } from '#shared/imports/sheets.ts';
import { entryFacts, entryNames } from '../../entryWords.ts';
import { moment } from '../../format.ts';
import type { ImportPreview } from '../../importsClient.ts';
import { PlainSelect } from '../form/PlainSelect.tsx';
import { RuledTable } from '../frame/RuledTable.tsx';
import { Tag } from '../frame/Status.tsx';
import { sheetWords } from '../pitch/sheetWords.ts';
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
            {read.problems.length === 0
              ? `${read.rows} ${read.rows === 1 ? 'row' : 'rows'} read`
              : 'needs another look'}
          </Tag>
        )}
      </h3>
      {read !== undefined && (
        <>
          <Problems read={read} columns={sheetColumns[file.kind]} />
          <details class="more" open={Object.keys(read.mapping).length === 0}>
            <summary>Which column is which</summary>
            {Object.keys(read.mapping).length === 0 && (
              <p class="field-hint">
                No heading was known. Choose each column here; the first line of the file must be
                its headings.
              </p>
            )}
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
          <Remarks read={read} columns={sheetColumns[file.kind]} />
          <Becomes read={read} />
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
        {
          head: 'Where',
          names: true,
          cell: ({ row, column }) =>
            [`Row ${row}`, columns.find(({ key }) => key === column)?.label ?? column]
              .filter((part) => part !== '')
              .join(', '),
        },
        { head: 'What is wrong', cell: ({ message }) => message },
      ]}
    />
  );
}

/** What the first rows will be in the log, so that a wrong unit or date shows before it is written. */
function Becomes({ read }: { read: ReadFile }) {
  if (read.becomes.length === 0) return null;
  return (
    <RuledTable
      caption="What the first rows become"
      rows={read.becomes}
      keyOf={({ row, entry }) => `${row} ${entry.kind}`}
      columns={[
        { head: 'Row', names: true, cell: ({ row }) => `Row ${row}` },
        { head: 'When', cell: ({ entry }) => moment(entry.happenedAt) },
        { head: 'What', cell: ({ entry }) => entryNames[entry.kind] },
        { head: 'With', cell: ({ entry }) => entryFacts(entry) },
      ]}
    />
  );
}

/** What of the file is taken in another unit than was chosen, and what is not taken at all. */
function Remarks({ read, columns }: Shown) {
  const used = new Set(Object.values(read.mapping));
  const unused = read.headings.filter((heading) => heading !== '' && !used.has(heading));
  const byHeading = columns.flatMap(({ key, label }) => {
    const units = Object.values(read.columnUnits[key] ?? {});
    return units.map((unit = '') => `${label} in ${unitWords[unit] ?? unit}`);
  });
  return (
    <>
      {byHeading.length > 0 && <p>Read as the headings say: {byHeading.join(', ')}.</p>}
      {unused.length > 0 && <p>Not brought in: {unused.join(', ')}.</p>}
    </>
  );
}

const unitWords: Partial<Record<string, string>> = { sg: 'SG', plato: '°P' };
