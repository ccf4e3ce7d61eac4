import type { LinePoint } from '#shared/views.ts';
import { type LineMeasure, lineMeasures } from '../charts/lineMeasures.ts';
import { day, fixed, generation } from '../format.ts';
import { type Column, RuledTable } from './RuledTable.tsx';

/** What the charts of a line are drawn from, ferment by ferment. */
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

const measureColumn = (measure: LineMeasure): Column<LinePoint> => ({
  head: measure.short,
  numeric: true,
  cell: (point) => {
    const value = point[measure.key];
    return value === null ? '' : fixed(value, measure.decimals);
  },
});

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
