import { ranksOf } from './ranks.ts';
import { type Edge, neighbours } from './reach.ts';

export type Place = { column: number; row: number };
export type Layout = {
  places: ReadonlyMap<string, Place>;
  columns: number;
  rows: number;
  /** The edges the rows follow; the others join branches and are drawn apart. */
  tree: ReadonlySet<Edge>;
};

/**
 * A drawing of a family: columns by the longest way from a source, rows so that the branches of the
 * tree of first parents never cross. The largest branch goes straight on.
 */
export function layoutOf(ids: readonly string[], edges: readonly Edge[]): Layout {
  const ranks = ranksOf(ids, edges);
  const tree = firstParents(edges, ranks);
  const children = neighbours([...tree], 'parent', 'child');
  const sizes = branchSizes(ids, ranks, [...tree]);
  for (const branch of children.values())
    branch.sort((a, b) => (sizes.get(b) ?? 0) - (sizes.get(a) ?? 0));
  const hasParent = new Set([...tree].map(({ child }) => child));
  const roots = ids.filter((id) => !hasParent.has(id));
  const places = placesOf(roots, ranks, children);
  return { places, tree, ...extentOf(places) };
}

// The parent nearest in column, so that no branch of the tree skips one.
function firstParents(edges: readonly Edge[], ranks: ReadonlyMap<string, number>): Set<Edge> {
  const first = new Map<string, Edge>();
  for (const edge of edges) {
    const known = first.get(edge.child);
    const rank = ranks.get(edge.parent) ?? 0;
    if (known === undefined || rank > (ranks.get(known.parent) ?? 0)) first.set(edge.child, edge);
  }
  return new Set(first.values());
}

function branchSizes(
  ids: readonly string[],
  ranks: ReadonlyMap<string, number>,
  tree: readonly Edge[],
): Map<string, number> {
  const sizes = new Map(ids.map((id) => [id, 1]));
  const fromTheEnd = tree.toSorted((a, b) => (ranks.get(b.child) ?? 0) - (ranks.get(a.child) ?? 0));
  for (const { parent, child } of fromTheEnd)
    sizes.set(parent, (sizes.get(parent) ?? 0) + (sizes.get(child) ?? 0));
  return sizes;
}

// Depth first with a stack of its own: a line may be thousands of generations long.
function placesOf(
  roots: readonly string[],
  ranks: ReadonlyMap<string, number>,
  children: ReadonlyMap<string, readonly string[]>,
): Map<string, Place> {
  const places = new Map<string, Place>();
  const free = new Map<number, number>();
  const stack = roots.toReversed().map((id) => ({ id, from: 0 }));
  for (let next = stack.pop(); next !== undefined; next = stack.pop()) {
    const column = ranks.get(next.id) ?? 0;
    const row = Math.max(free.get(column) ?? 0, next.from);
    places.set(next.id, { column, row });
    free.set(column, row + 1);
    for (const id of (children.get(next.id) ?? []).toReversed()) stack.push({ id, from: row });
  }
  return places;
}

function extentOf(places: ReadonlyMap<string, Place>) {
  let columns = 0;
  let rows = 0;
  for (const { column, row } of places.values()) {
    columns = Math.max(columns, column + 1);
    rows = Math.max(rows, row + 1);
  }
  return { columns, rows };
}
