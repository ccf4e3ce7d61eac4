import { grouped } from '../grouped.ts';
import { type Family, type Kin, nextAfter } from './family.ts';
import { type TraceCounts, traceCounts } from './traceCounts.ts';
import type { FamilyHoldView, TraceEdge, TraceEvidence, TraceOrigin } from './traceEvidence.ts';
import { nodesOf, type TraceNode, type UnplacedNode } from './traceNodes.ts';

export type Trace = {
  of: TraceOrigin;
  counts: TraceCounts;
  nodes: TraceNode[];
  edges: TraceEdge[];
  /** Whether `nodes` are all there are. */
  isWhole: boolean;
  /** Where the next part of the family begins; null when this is the last. */
  next: number | null;
  holds: readonly FamilyHoldView[];
};

/** The family of a record: what lies above and below it, how each is reached, how each stands. */
export function traceOf(evidence: TraceEvidence): Trace {
  const { origin, family, part } = evidence;
  const parents = grouped(evidence.otherParents, ({ child }) => child);
  // Put on the node just made: to copy it into another takes ten times as long, and nodes are many.
  const placed = (node: UnplacedNode): TraceNode => {
    const { side, steps, through } = family.byId.get(node.id) ?? family.start;
    const alsoFrom = (parents.get(node.id) ?? []).map(({ code }) => code);
    return Object.assign(node, { side, steps, through, alsoFrom });
  };
  const nodes = nodesOf(evidence).map(placed).sort(byTime);
  const told = new Map(nodes.map((node) => [node.id, node]));
  return {
    of: origin,
    counts: traceCounts(family, told),
    nodes,
    edges: edgesAmong(family, told),
    isWhole: nodes.length === family.byId.size,
    next: nextAfter(family, part),
    holds: evidence.holds,
  };
}

function edgesAmong({ up, down }: Family, told: { has: (id: Kin['id']) => boolean }): TraceEdge[] {
  const both = ({ via, id }: { via: string; id: string }) => told.has(id) && told.has(via);
  return [
    ...up.filter(both).map(({ kind, via, id }) => ({ parent: id, child: via, kind })),
    ...down.filter(both).map(({ kind, via, id }) => ({ parent: via, child: id, kind })),
  ];
}

// Of one form, so that the moments themselves compare; a comparison by language is slow.
const byTime = (a: TraceNode, b: TraceNode) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0);
