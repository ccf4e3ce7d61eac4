import { petitePercent } from '#shared/lots/petites.ts';
import type { LotStanding, PlateStanding } from '#shared/views/lots.ts';
import { moment } from '../../format.ts';
import { range } from '../bench/plateSays.ts';
import { type Column, RuledTable } from '../frame/RuledTable.tsx';

/** What the plates of a lot have shown, with exact limits; none found is an upper limit. */
export function LotPlates({ lot }: { lot: Pick<LotStanding, 'code' | 'plates'> }) {
  if (lot.plates.length === 0) return null;
  return (
    <>
      <h2>Plates of {lot.code}</h2>
      <RuledTable
        caption={`Plates of ${lot.code}, newest first`}
        quiet
        columns={columns}
        rows={lot.plates}
        keyOf={({ id }) => id}
      />
      <p class="field-hint">
        Limits of 95 %, exact: colonies by Garwood 1936, shares by Clopper and Pearson 1934. Where
        none was found, the upper limit is all that the plate can tell.
      </p>
    </>
  );
}

const columns: Column<PlateStanding>[] = [
  { head: 'Plated', names: true, cell: ({ at }) => moment(at) },
  {
    head: 'Medium',
    cell: ({ medium, looksFor, purpose }) =>
      `${medium}: ${looksFor}${purpose === 'suspicion' ? ', on suspicion' : ''}`,
  },
  {
    head: 'Read',
    cell: ({ result }) => (result === null ? 'not yet' : moment(result.at)),
  },
  { head: 'Found', cell: ({ result }) => foundWords(result) },
  { head: '95 % limits', cell: ({ result }) => limitWords(result) },
  { head: 'Thrown away at', cell: ({ discardPerMillion }) => discardWords(discardPerMillion) },
];

const discardWords = (perMillion: number | null) =>
  perMillion === null ? '' : `${perMillion} per million`;

function foundWords(result: PlateStanding['result']): string {
  if (result === null) return '';
  const { colonies, ofColonies, outcome } = result;
  if (colonies === null) return outcome;
  return `${outcome}, ${colonies} ${ofColonies === null ? 'colonies' : `of ${ofColonies} colonies`}`;
}

function limitWords(result: PlateStanding['result']): string {
  if (result === null || result.colonies === null) return '';
  const { colonies, ofColonies, figure: counted } = result;
  if (ofColonies !== null) return range(petitePercent(colonies, ofColonies), '% of the colonies');
  return counted === null
    ? 'how many cells were plated is not written down'
    : range(counted.perMillion, 'per million cells');
}
