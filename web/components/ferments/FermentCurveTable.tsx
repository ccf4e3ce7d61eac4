import type { BandPoint, FermentDetail } from '#shared/views/ferments.ts';
import { fixed, gravity } from '../../format.ts';
import { type Column, RuledTable } from '../frame/RuledTable.tsx';

type Row = {
  hours: number;
  read: number | null;
  low: number | null;
  mid: number | null;
  high: number | null;
  fitted: number | null;
};

const betweenHours = 12;

type Props = { points: readonly BandPoint[]; gravities: FermentDetail['gravities'] };

/** What the chart is drawn from: every gravity, and the band twice a day. */
export function FermentCurveTable({ points, gravities }: Props) {
  const hasFitted = points.some(({ fittedSg }) => fittedSg !== null);
  return (
    <details class="more">
      <summary>The figures behind the chart</summary>
      <RuledTable
        caption="Gravity read, and expected for 19 ferments of 20"
        columns={hasFitted ? [...columns, fittedColumn] : columns}
        rows={rowsOf(points, gravities)}
        keyOf={({ hours, read }) => `${hours} ${read}`}
      />
    </details>
  );
}

function rowsOf(points: Props['points'], gravities: Props['gravities']): Row[] {
  const expected = points
    .filter(({ hours }) => hours % betweenHours === 0)
    .map(({ hours, low, mid, high, fittedSg }) => ({
      ...{ hours, low, mid, high },
      read: null,
      fitted: fittedSg,
    }));
  const read = gravities.map(({ hours, gravitySg, expected: band, fittedSg }) => ({
    hours,
    read: gravitySg,
    low: band?.low ?? null,
    mid: band?.mid ?? null,
    high: band?.high ?? null,
    fitted: fittedSg,
  }));
  return [...expected, ...read].toSorted((a, b) => a.hours - b.hours);
}

const shown = (gravitySg: number | null) => (gravitySg === null ? '' : gravity(gravitySg));

const columns: Column<Row>[] = [
  { head: 'Hours', names: true, cell: ({ hours }) => fixed(hours, 1) },
  { head: 'Read', numeric: true, cell: ({ read }) => shown(read) },
  { head: 'Lowest', numeric: true, cell: ({ low }) => shown(low) },
  { head: 'Middle', numeric: true, cell: ({ mid }) => shown(mid) },
  { head: 'Highest', numeric: true, cell: ({ high }) => shown(high) },
];

const fittedColumn: Column<Row> = {
  head: 'Fitted',
  numeric: true,
  cell: ({ fitted }) => shown(fitted),
};
