import { type Family, sourcesOf } from './family.ts';
import type { TraceNode } from './traceNodes.ts';

/** How many there are of what matters in the whole of a family, whatever part of it is told. */
export type TraceCounts = {
  upstream: number;
  downstream: number;
  /** What the sources are called. */
  sources: readonly string[];
  /** The record traced and what came from it: ferments, lots of which some is left, cask batches. */
  ferments: number;
  lotsInStore: number;
  batches: number;
  /** Of all lots in store, how many are on hold. */
  held: number;
};

/** @param told  by key, with every source and every lot in store among them */
export function traceCounts(family: Family, told: ReadonlyMap<number, TraceNode>): TraceCounts {
  const { start, upstream, downstream } = family;
  const nodes = [...told.values()];
  const inStore = nodes.filter(({ state }) => state === 'in store');
  let ferments = start.kind === 'ferment' ? 1 : 0;
  let batches = told.get(start.key)?.batches.length ?? 0;
  for (const kin of downstream) {
    if (kin.kind === 'ferment') ferments += 1;
    batches += kin.batches;
  }
  return {
    upstream: upstream.length,
    downstream: downstream.length,
    sources: sourcesOf(family).flatMap((key) => told.get(key)?.label ?? []),
    ferments,
    lotsInStore: inStore.filter(({ side }) => side !== 'upstream').length,
    batches,
    held: inStore.filter(({ status }) => status === 'held').length,
  };
}
