import type { CsvCell } from '#shared/csv.ts';
import { hasSites, type Site, siteAt } from '#shared/sites/site.ts';
import type { Trace } from './trace.ts';
import type { TraceMark } from './traceMarks.ts';
import type { TraceNode } from './traceNodes.ts';

const headings = [
  'side',
  'steps',
  'kind',
  'code',
  'detail',
  'through',
  'also_from',
  'generation_from_0',
  'happened_at',
  'state',
  'left',
  'left_unit',
  'marks',
  'id',
];

/**
 * A trace as a list; a racking of several cask batches has a line for each. Where there are several
 * sites a last column names that of each record.
 */
export function traceSheet(trace: Trace, sites: readonly Site[]) {
  const isOfSites = hasSites(sites);
  return {
    headings: isOfSites ? [...headings, 'site'] : headings,
    rows: traceRows(trace, (node) => (isOfSites ? [siteAt(sites, node.siteId)?.name] : [])),
  };
}

function traceRows({ nodes }: Trace, more: (node: TraceNode) => CsvCell[]): CsvCell[][] {
  const labels = new Map(nodes.map(({ id, label }) => [id, label]));
  return nodes.flatMap((node) =>
    codesOf(node).map((code) => [
      node.side,
      node.steps,
      node.kind,
      code,
      node.detail,
      labels.get(node.through ?? '') ?? '',
      node.alsoFrom.join(' '),
      node.generation,
      node.at,
      node.state,
      node.left?.value,
      node.left?.unit,
      node.marks.map(markWords).join('; '),
      node.id,
      ...more(node),
    ]),
  );
}

const codesOf = ({ batches, label }: TraceNode) => (batches.length === 0 ? [label] : batches);

/** A mark in one line: what, why, when and by whom. */
function markWords({ what, text, at, by, isOver }: TraceMark): string {
  return `${what}: ${text} (${at.slice(0, 10)}, ${by}${isOver ? ', lifted since' : ''})`;
}
