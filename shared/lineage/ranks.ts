import { type Edge, neighbours } from './reach.ts';

/**
 * The column of each record: the length of the longest way down to it from a record without
 * parents.
 * @throws RangeError when the edges run in a circle
 */
export function ranksOf(ids: readonly string[], edges: readonly Edge[]): Map<string, number> {
  const children = neighbours(edges, 'parent', 'child');
  const waiting = new Map<string, number>();
  for (const { child } of edges) waiting.set(child, (waiting.get(child) ?? 0) + 1);
  const ranks = new Map<string, number>();
  const ready = ids.filter((id) => !waiting.has(id));
  for (const id of ready) ranks.set(id, 0);
  for (const id of ready)
    for (const child of children.get(id) ?? []) {
      ranks.set(child, Math.max(ranks.get(child) ?? 0, (ranks.get(id) ?? 0) + 1));
      const left = (waiting.get(child) ?? 0) - 1;
      waiting.set(child, left);
      if (left === 0) ready.push(child);
    }
  if (ready.length < ids.length)
    throw new RangeError(
      `ranksOf: edges must not run in a circle, got ${ids.length - ready.length} records on one`,
    );
  return ranks;
}
