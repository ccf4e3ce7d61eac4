import { grouped } from '../grouped.ts';
import { ancestorsOf, descendantsOf, type Reached } from './reach.ts';
import type { FamilyHoldView, TraceEdge, TraceEvidence, TraceOrigin } from './traceEvidence.ts';
import { nodesOf, type TraceNode } from './traceNodes.ts';

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
  const place = (id: string) => ({
    ...sideOf(id),
    alsoFrom: (parents.get(id) ?? []).map(({ code }) => code),
  });
  return {
    of: origin,
    nodes: nodesOf(evidence)
      .map((node) => ({ ...node, ...place(node.id) }))
      .sort((a, b) => a.at.localeCompare(b.at)),
    edges: edges.map(({ parent, child, kind }) => ({ parent, child, kind })),
    isWhole: evidence.isWhole,
    holds: evidence.holds,
  };
}
