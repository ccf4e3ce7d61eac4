import { grouped } from '../grouped.ts';
import { ancestorsOf, descendantsOf, type Reached } from './reach.ts';
import type { FamilyHoldView, TraceEdge, TraceEvidence, TraceOrigin } from './traceEvidence.ts';
import { nodesOf, type TraceNode, type UnplacedNode } from './traceNodes.ts';

export type Trace = {
  of: TraceOrigin;
  nodes: TraceNode[];
  edges: TraceEdge[];
  isWhole: boolean;
  holds: readonly FamilyHoldView[];
};

/** The family of a record: what lies above and below it, how each is reached, how each stands. */
export function traceOf(evidence: TraceEvidence): Trace {
  const { origin, edges } = evidence;
  const up = ancestorsOf(
    origin.nodeId,
    edges.filter(({ isUp }) => isUp),
  );
  const down = descendantsOf(
    origin.nodeId,
    edges.filter(({ isUp }) => !isUp),
  );
  const sideOf = (id: string): Pick<TraceNode, 'side'> & Reached => {
    if (id === origin.nodeId) return { side: 'start', steps: 0, through: null };
    const above = up.get(id);
    if (above !== undefined) return { side: 'upstream', ...above };
    return { side: 'downstream', ...(down.get(id) ?? { steps: 0, through: null }) };
  };
  const parents = grouped(evidence.otherParents, ({ child }) => child);
  // Put on the node just made: to copy it into another takes ten times as long, and nodes are many.
  const placed = (node: UnplacedNode): TraceNode =>
    Object.assign(node, sideOf(node.id), {
      alsoFrom: (parents.get(node.id) ?? []).map(({ code }) => code),
    });
  return {
    of: origin,
    nodes: nodesOf(evidence).map(placed).sort(byTime),
    edges: edges.map(({ parent, child, kind }) => ({ parent, child, kind })),
    isWhole: evidence.isWhole,
    holds: evidence.holds,
  };
}

// Of one form, so that the moments themselves compare; a comparison by language is slow.
const byTime = (a: TraceNode, b: TraceNode) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0);
