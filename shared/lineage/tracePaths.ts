import { mattersStill } from './mattersStill.ts';
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

/**
 * The records of a side in the order they are listed, nearest first. Of more than `most`, the one
 * traced and those that matter still are all among them, first, and the nearest of the others as far
 * as there is room.
 */
export function listedOf(nodes: readonly TraceNode[], most: number, nowMs: number): TraceNode[] {
  const nearest = nodes.toSorted((a, b) => a.steps - b.steps);
  if (nearest.length <= most) return nearest;
  const isFirst = (node: TraceNode) => node.side === 'start' || mattersStill(node, nowMs);
  const first = nearest.filter(isFirst);
  const others = nearest.filter((node) => !isFirst(node));
  return [...first, ...others.slice(0, Math.max(0, most - first.length))];
}
