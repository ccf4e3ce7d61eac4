import type { EntryOf } from '#shared/entries/entry.ts';
import { petitePercent } from '#shared/lots/petites.ts';
import { contaminantsPerMillion } from '#shared/science/contaminants.ts';
import type { JournalRow, LotPage } from '../apiClient.ts';
import { figure, moment } from '../format.ts';
import { type Column, RuledTable } from './RuledTable.tsx';
import { historyRows } from './standingEntries.ts';

type Plate = {
  id: string;
  check: EntryOf<'microCheck'>;
  result: EntryOf<'microResult'> | undefined;
};

/** What the plates of a lot have shown, with exact limits; none found is an upper limit. */
export function LotPlates({ lot }: { lot: Pick<LotPage, 'code' | 'history'> }) {
  const plates = platesOf(lot.history);
  if (plates.length === 0) return null;
  return (
    <>
      <h2>Plates of {lot.code}</h2>
      <RuledTable
        caption={`Plates of ${lot.code}, newest first`}
        quiet
        columns={columns}
        rows={plates}
        keyOf={({ id }) => id}
      />
      <p class="field-hint">
        Limits of 95 %, exact: colonies by Garwood 1936, shares by Clopper and Pearson 1934. Where
        none was found, the upper limit is all that the plate can tell.
      </p>
    </>
  );
}

function platesOf(history: readonly JournalRow[]): Plate[] {
  const standing = historyRows(history).filter(({ isStruck }) => !isStruck);
  const results = standing.flatMap(({ body }) => (body.kind === 'microResult' ? [body] : []));
  return standing.flatMap(({ recordId, body }): Plate[] =>
    body.kind === 'microCheck'
      ? [
          {
            id: recordId,
            check: body,
            result: results.find(({ checkId }) => checkId === recordId),
          },
        ]
      : [],
  );
}

const columns: Column<Plate>[] = [
  { head: 'Plated', names: true, cell: ({ check }) => moment(check.happenedAt) },
  { head: 'Medium', cell: ({ check }) => `${check.medium}: ${check.looksFor}` },
  {
    head: 'Read',
    cell: ({ result }) => (result === undefined ? 'not yet' : moment(result.happenedAt)),
  },
  { head: 'Found', cell: ({ result }) => foundWords(result) },
  { head: '95 % limits', cell: (plate) => limitWords(plate) },
];

function foundWords(result: Plate['result']): string {
  if (result === undefined) return '';
  const { colonies, ofColonies, outcome } = result;
  if (colonies === undefined) return outcome;
  return `${outcome}, ${colonies} ${ofColonies === undefined ? 'colonies' : `of ${ofColonies} colonies`}`;
}

function limitWords({ check, result }: Plate): string {
  const { colonies, ofColonies } = result ?? {};
  if (colonies === undefined) return '';
  if (ofColonies !== undefined)
    return worded(colonies, petitePercent(colonies, ofColonies), '%', 'of colonies');
  const { cellsPlated = 0 } = check;
  return cellsPlated > 0
    ? worded(colonies, contaminantsPerMillion(colonies, cellsPlated), '', 'per million cells')
    : 'how many cells were plated is not written down';
}

function worded(
  found: number,
  { value, low, high }: { value: number; low: number; high: number },
  sign: string,
  per: string,
): string {
  const unit = sign === '' ? per : `${sign} ${per}`;
  return found === 0
    ? `less than ${figure(high)} ${unit}`
    : `${figure(value)} ${unit} (${figure(low)} to ${figure(high)})`;
}
