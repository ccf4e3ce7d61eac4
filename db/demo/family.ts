import type { BulkEntry } from '#db/journal/bulk.ts';
import { descendantsOf, type Edge } from '#shared/lineage/reach.ts';

/** Every lot and ferment that came from a lot, by what is written so far. */
export function familyBelow(entries: readonly BulkEntry[], lotId: string): ReadonlySet<string> {
  return new Set(descendantsOf(lotId, entries.flatMap(stepsIn)).keys());
}

function stepsIn({ id, entry }: BulkEntry): Edge[] {
  switch (entry.kind) {
    case 'pitch':
      return [{ parent: entry.lotId, child: entry.fermentId }];
    case 'crop':
      return [{ parent: entry.fermentId, child: id }];
    case 'blend':
      return entry.parents.map(({ lotId }) => ({ parent: lotId, child: id }));
    case 'transfer':
      return [{ parent: entry.lotId, child: id }];
    default:
      return [];
  }
}
