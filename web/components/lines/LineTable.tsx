import { type LineMeasure, lineMeasures } from '#shared/lines/lineMeasures.ts';
import type { LinePoint } from '#shared/views/lines.ts';
import { day, fixed, generation } from '../../format.ts';
import { type Column, RuledTable } from '../frame/RuledTable.tsx';

/** Every measure of a line, ferment by ferment. */
export function LineTable({ points }: { points: readonly LinePoint[] }) {
  return (
    <RuledTable
      caption="Ferments of this line, by generation"
      columns={columns}
      rows={points.toSorted(
        (a, b) => a.generation - b.generation || a.pitchedAt.localeCompare(b.pitchedAt),
      )}
      keyOf={({ fermentId, gyle }) => `${fermentId} ${gyle}`}
      empty="Nothing of this line has been pitched yet."
    />
  );
}

const heads: Record<LineMeasure['key'], string> = {
  viabilityPercent: 'Viability, %',
  halfTimeHours: 'Half time, h',
  apparentAttenuationPercent: 'Attenuation, %',
  cropRatio: 'Crop ratio',
  suspendedMillionPerMl: 'In suspension, million/mL',
  petitePercent: 'Petites, %',
};

const measureColumn = (measure: LineMeasure): Column<LinePoint> => ({
  head: heads[measure.key],
  numeric: true,
  cell: (point) => {
    const value = point[measure.key];
    if (value === null) return '';
    const range = rangeOf(point, measure.key);
    const shown = fixed(value, measure.decimals);
    return range === null
      ? shown
      : `${shown} (${fixed(range.low, measure.decimals)} to ${fixed(range.high, measure.decimals)})`;
  },
});

function rangeOf({ viabilityRange, petiteRange }: LinePoint, key: LineMeasure['key']) {
  if (key === 'viabilityPercent') return viabilityRange;
  return key === 'petitePercent' ? petiteRange : null;
}

const columns: Column<LinePoint>[] = [
  { head: 'Generation', cell: (point) => generation(point.generation) },
  {
    head: 'Gyle',
    names: true,
    cell: ({ fermentId, gyle }) => <a href={`/ferments/${fermentId}`}>{gyle}</a>,
  },
  { head: 'Beer', cell: ({ beer }) => <span class="together">{beer}</span> },
  { head: 'Pitched', cell: ({ pitchedAt }) => <span class="together">{day(pitchedAt)}</span> },
  ...lineMeasures.map(measureColumn),
];
