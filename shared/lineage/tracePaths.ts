import type { Trace } from './trace.ts';
import type { TraceNode } from './traceNodes.ts';

/** The records from the one traced to another, both included. */
export function pathFromStart(
  nodes: ReadonlyMap<string, TraceNode>,
  id: string,
): readonly TraceNode[] {
  const path: TraceNode[] = [];
  for (let next = nodes.get(id); next !== undefined; next = nodes.get(next.through ?? ''))
    path.push(next);
  return path.reverse();
}

export const traceSides = ['both', 'upstream', 'downstream'] as const;
export type ShownSide = (typeof traceSides)[number];

/** The records of one side, or of both, nearest first, at most so many; and the steps among them. */
export function partOf({ nodes, edges }: Trace, side: ShownSide, most: number) {
  const shown = nodes
    .filter((node) => side === 'both' || node.side === 'start' || node.side === side)
    .sort((a, b) => a.steps - b.steps)
    .slice(0, most);
  const ids = new Set(shown.map(({ id }) => id));
  return {
    nodes: shown,
    edges: edges.filter(({ parent, child }) => ids.has(parent) && ids.has(child)),
  };
}

export type TraceCounts = {
  upstream: number;
  sources: readonly string[];
  ferments: number;
  lotsInStore: number;
  batches: number;
};

/** How many there are of what matters in a trace. */
export function traceCounts({ nodes, edges }: Trace): TraceCounts {
  const below = nodes.filter(({ side }) => side !== 'upstream');
  const upstream = nodes.filter(({ side }) => side === 'upstream');
  const hasParent = new Set(edges.map(({ child }) => child));
  const sources = nodes.filter(({ id, side }) => side !== 'downstream' && !hasParent.has(id));
  return {
    upstream: upstream.length,
    sources: sources.map(({ label }) => label),
    ferments: below.filter(({ kind }) => kind === 'ferment').length,
    lotsInStore: below.filter(({ state }) => state === 'in store').length,
    batches: below.reduce((sum, { batches }) => sum + batches.length, 0),
  };
}
