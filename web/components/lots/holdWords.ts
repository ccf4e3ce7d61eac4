import type { Trace } from '#shared/lineage/trace.ts';

/** What a hold of a family begins at, and what it touches, in words. */
export type Held = { lotId?: string; fermentId?: string; words: string };

/** Undefined for casks, from which nothing comes. */
export function heldWords(trace: Trace): Held | undefined {
  const { kind, nodeId } = trace.of;
  if (kind === 'casks') return undefined;
  const { lotsInStore, ferments, batches } = trace.counts;
  const words = `It holds ${counted(lotsInStore, 'lot')} in store and marks ${counted(ferments, 'ferment')} with ${counted(batches, 'cask batch', 'cask batches')}. What is cropped later from these ferments is held too.`;
  return kind === 'ferment' ? { fermentId: nodeId, words } : { lotId: nodeId, words };
}

const counted = (many: number, one: string, more = `${one}s`) =>
  `${many === 0 ? 'no' : many} ${many === 1 ? one : more}`;

/** What a plate found is the reason most often. */
export function startingReason({ of, nodes }: Trace): string {
  const start = nodes.find(({ id }) => id === of.nodeId);
  const grew = start?.marks.findLast(({ what }) => what === 'grew');
  return grew === undefined ? '' : `${start?.label}: ${grew.text}`;
}
