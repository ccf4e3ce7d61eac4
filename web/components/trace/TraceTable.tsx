import { caskDays } from '#shared/lineage/mattersStill.ts';
import type { Trace } from '#shared/lineage/trace.ts';
import type { TraceNode } from '#shared/lineage/traceNodes.ts';
import { listedOf } from '#shared/lineage/tracePaths.ts';
import { generation, moment } from '../../format.ts';
import { siteName, sites } from '../../sites.ts';
import { type Column, RuledTable } from '../frame/RuledTable.tsx';
import { Tag } from '../frame/Status.tsx';
import { TraceMarks } from './TraceMarks.tsx';
import { kindWords, stateOf, statusWords } from './traceWords.ts';

const mostRows = 500;

/** So many rows stand unfolded; more where more matter still. */
const atFirst = 20;

type Props = {
  trace: Pick<Trace, 'nodes' | 'counts'>;
  hrefOf: (node: TraceNode) => string;
  labelOf: (id: string | null) => string;
};

/** The same family as a list to print and act on, nearest records first. */
export function TraceTable({ trace: { nodes, counts }, hrefOf, labelOf }: Props) {
  const upstream = nodes.filter(({ side }) => side === 'upstream');
  const below = nodes.filter(({ side }) => side !== 'upstream');
  const columns = columnsFor(hrefOf, labelOf);
  return (
    <>
      <h2>Downstream, as a list</h2>
      <Nearest
        caption="The record traced and all that came from it"
        rows={below}
        all={1 + counts.downstream}
        columns={columns}
      />
      <h2>Upstream, as a list</h2>
      <Nearest
        caption="All it came from"
        rows={upstream}
        all={counts.upstream}
        empty="Nothing: it is itself the source."
        columns={columns}
      />
    </>
  );
}

type NearestProps = {
  caption: string;
  rows: readonly TraceNode[];
  /** How many there are, told or not. */
  all: number;
  columns: readonly Column<TraceNode>[];
  empty?: string;
};

function Nearest({ caption, rows, all, columns, empty }: NearestProps) {
  const nowMs = Date.now();
  const listed = listedOf(rows, mostRows, nowMs);
  const first = listedOf(listed, atFirst, nowMs);
  const unfolded = new Set(first);
  const more = all - listed.length;
  return (
    <div class="trace-list">
      <RuledTable
        caption={caption}
        quiet
        columns={columns}
        rows={[...first, ...listed.filter((node) => !unfolded.has(node))]}
        keyOf={({ id }) => id}
        empty={empty}
        atFirst={first.length}
      />
      {all > first.length && (
        <p>
          Listed first is all that is in store or in FV, lots whose plates grew, and casks racked in
          the last {caskDays} days; then the nearest of the rest.
          {more > 0 && ` ${more} more, with what is marked among them, are in the CSV file.`}
        </p>
      )}
    </div>
  );
}

function columnsFor(hrefOf: Props['hrefOf'], labelOf: Props['labelOf']): Column<TraceNode>[] {
  return [
    {
      head: 'Record',
      names: true,
      cell: (node) => (
        <a class="together" href={hrefOf(node)}>
          {node.label}
        </a>
      ),
    },
    {
      head: 'What',
      cell: ({ kind, detail, batches }) => (
        <>
          {kindWords[kind]}: {detail}
          {batches.length > 0 && `: ${batches.join(', ')}`}
        </>
      ),
    },
    ...(sites.value.length > 0
      ? [{ head: 'Site', cell: ({ siteId }: TraceNode) => siteName(siteId) }]
      : []),
    { head: 'Steps', numeric: true, cell: ({ steps }) => steps },
    { head: 'Through', cell: ({ through }) => <span class="together">{labelOf(through)}</span> },
    {
      head: 'Generation',
      cell: (node) => (node.generation === null ? '' : generation(node.generation)),
    },
    { head: 'When', cell: ({ at }) => <span class="together">{moment(at)}</span> },
    { head: 'State', cell: (node) => stateOf({ ...node, generation: null }) },
    {
      head: 'To look at',
      wordy: true,
      cell: ({ status, marks, alsoFrom }) => (
        <>
          {status !== 'plain' && (
            <Tag tone={statusWords[status].tone}>{statusWords[status].word}</Tag>
          )}
          <TraceMarks marks={marks} />
          {alsoFrom.length > 0 && <p class="mark">also from {alsoFrom.join(', ')}</p>}
        </>
      ),
    },
  ];
}
