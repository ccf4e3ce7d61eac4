import type { TraceNode } from '#shared/lineage/traceNodes.ts';
import { generation, moment } from '../../format.ts';
import { siteName, sites } from '../../sites.ts';
import { type Column, RuledTable } from '../frame/RuledTable.tsx';
import { Tag } from '../frame/Status.tsx';
import { TraceMarks } from './TraceMarks.tsx';
import { kindWords, stateOf, statusWords } from './traceWords.ts';

const mostRows = 500;

type Props = {
  nodes: readonly TraceNode[];
  hrefOf: (node: TraceNode) => string;
  labelOf: (id: string | null) => string;
};

/** The same family as a list to print and act on, nearest records first. */
export function TraceTable({ nodes, hrefOf, labelOf }: Props) {
  const side = (which: TraceNode['side']) =>
    nodes.filter((node) => node.side === which).toSorted((a, b) => a.steps - b.steps);
  const below = [...side('start'), ...side('downstream')];
  const columns = columnsFor(hrefOf, labelOf);
  return (
    <>
      <h2>Downstream, as a list</h2>
      <Nearest
        caption="The record traced and all that came from it"
        rows={below}
        columns={columns}
      />
      <h2>Upstream, as a list</h2>
      <Nearest
        caption="All it came from"
        rows={side('upstream')}
        empty="Nothing: it is itself the source."
        columns={columns}
      />
    </>
  );
}

type NearestProps = {
  caption: string;
  rows: readonly TraceNode[];
  columns: readonly Column<TraceNode>[];
  empty?: string;
};

function Nearest({ caption, rows, columns, empty }: NearestProps) {
  const more = rows.length - mostRows;
  return (
    <div class="trace-list">
      <RuledTable
        caption={caption}
        quiet
        columns={columns}
        rows={rows.slice(0, mostRows)}
        keyOf={({ id }) => id}
        empty={empty}
      />
      {more > 0 && <p>{more} more are in the CSV file; the nearest are shown.</p>}
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
