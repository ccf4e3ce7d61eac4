import type { LineMeasure } from '#shared/lines/lineMeasures.ts';
import type { LineMeasurePoint, LineMeasureStanding, LinePoint } from '#shared/views/lines.ts';
import { isOut } from '../../charts/generationChart.ts';
import { fixed, generation } from '../../format.ts';
import { RuledTable } from '../frame/RuledTable.tsx';

type Props = {
  points: readonly LinePoint[];
  standing: LineMeasureStanding;
  measure: LineMeasure;
};

const roles: Record<LineMeasurePoint['role'], string> = {
  fresh: 'fresh, does not count',
  baseline: 'sets the limits',
  judged: 'judged by them',
};

/** What one chart is drawn from. */
export function LineMeasureTable({ points, standing, measure }: Props) {
  const gyleOf = new Map(points.map(({ fermentId, gyle }) => [fermentId, gyle]));
  const shown = (value: number) => fixed(value, measure.decimals);
  return (
    <details class="more folded-on-paper">
      <summary>Table of this chart</summary>
      <RuledTable
        caption={`${measure.name}, ferment by ferment`}
        quiet
        rows={standing.points}
        keyOf={({ fermentId }) => fermentId}
        columns={[
          { head: 'Generation', cell: (point) => generation(point.generation) },
          {
            head: 'Gyle',
            names: true,
            cell: ({ fermentId }) => (
              <a href={`/ferments/${fermentId}`}>{gyleOf.get(fermentId) ?? 'unknown'}</a>
            ),
          },
          {
            head: `${measure.name}, ${measure.unit}`,
            numeric: true,
            cell: ({ value }) => shown(value),
          },
          { head: 'Counts as', cell: ({ role }) => <span class="role">{roles[role]}</span> },
          {
            head: 'Moving average (limits)',
            numeric: true,
            cell: ({ average }) =>
              average === null
                ? ''
                : `${shown(average.value)} (${shown(average.lower)} to ${shown(average.upper)})`,
          },
          {
            head: 'Found',
            cell: (point) => <span class="found">{findings(point, standing)}</span>,
          },
        ]}
      />
    </details>
  );
}

function findings(point: LineMeasurePoint, standing: LineMeasureStanding): string {
  if (point.role === 'fresh') return '';
  const out = isOut({ ...point, patterns: [] }, standing) ? ['outside the limits'] : [];
  const average = point.average?.isOut ? ['average outside its limits'] : [];
  return [...out, ...average, ...point.patterns].join('; ');
}
