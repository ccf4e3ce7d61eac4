/** One step down: what `child` holds came out of `parent`. */
export type Edge = { parent: string; child: string };

/** How a record is reached from the one traced: steps, and the neighbour one step nearer to it. */
export type Reached = { steps: number; through: string | null };

/** Everything below a record and the record itself, each by a shortest way. */
export function descendantsOf(start: string, edges: readonly Edge[]): Map<string, Reached> {
  const next = neighbours(edges, 'parent', 'child');
  // Breadth first, so that the first way found is a shortest one; a circle ends where it began.
  const reached = new Map<string, Reached>([[start, { steps: 0, through: null }]]);
  for (const [id, { steps }] of reached)
    for (const other of next.get(id) ?? [])
      if (!reached.has(other)) reached.set(other, { steps: steps + 1, through: id });
  return reached;
}

/** For each record, what lies one step on from it, in the order of the edges. */
export function neighbours(
  edges: readonly Edge[],
  from: keyof Edge,
  to: keyof Edge,
): Map<string, string[]> {
  const next = new Map<string, string[]>();
  for (const edge of edges) {
    const known = next.get(edge[from]);
    if (known === undefined) next.set(edge[from], [edge[to]]);
    else known.push(edge[to]);
  }
  return next;
}
