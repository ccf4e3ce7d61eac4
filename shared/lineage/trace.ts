import { grouped } from '../grouped.ts';
import { type Family, nextAfter } from './family.ts';
import { type TraceCounts, traceCounts } from './traceCounts.ts';
import type {
  FamilyHoldView,
  StepKind,
  TraceEdge,
  TraceEvidence,
  TraceOrigin,
} from './traceEvidence.ts';
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
  const { origin, family, part, lots, ferments, racks } = evidence;
  const parents = grouped(evidence.otherParents, ({ child }) => child);
  const records = [...lots, ...ferments, ...racks];
  const ids = new Map(records.map(({ key, id }) => [key, id]));
  const keys = new Map(records.map(({ key, id }) => [id, key]));
  const keyOf = ({ id }: UnplacedNode) => keys.get(id) ?? family.start.key;
  // Put on the node just made: to copy it into another takes ten times as long, and nodes are many.
  const placed = (node: UnplacedNode): TraceNode => {
    const { side, steps, through } = family.byKey.get(keyOf(node)) ?? family.start;
    const nearer = through === null ? null : (ids.get(through) ?? null);
    const alsoFrom = (parents.get(node.id) ?? []).map(({ code }) => code);
    return Object.assign(node, { side, steps, through: nearer, alsoFrom });
  };
  const nodes = nodesOf(evidence).map(placed).sort(byTime);
  return {
    of: origin,
    counts: traceCounts(family, new Map(nodes.map((node) => [keyOf(node), node]))),
    nodes,
    edges: edgesAmong(family, ids),
    isWhole: nodes.length === family.byKey.size,
    next: nextAfter(family, part),
    holds: evidence.holds,
  };
}

function edgesAmong({ up, down }: Family, ids: ReadonlyMap<number, string>): TraceEdge[] {
  const edges: TraceEdge[] = [];
  const add = (kind: StepKind, above: number, below: number) => {
    const child = ids.get(below);
    if (child === undefined) return;
    const parent = ids.get(above);
    if (parent !== undefined) edges.push({ parent, child, kind });
  };
  for (const { kind, via, key } of up) add(kind, key, via);
  for (const { kind, via, key } of down) add(kind, via, key);
  return edges;
}

// Of one form, so that the moments themselves compare; a comparison by language is slow.
const byTime = (a: TraceNode, b: TraceNode) => (a.at < b.at ? -1 : a.at > b.at ? 1 : 0);
