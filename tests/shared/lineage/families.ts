import fc from 'fast-check';
import type { Edge } from '#shared/lineage/reach.ts';

/** Edges between up to 14 records, each from an earlier one to a later one: never a circle. */
export const families = fc
  .uniqueArray(fc.tuple(fc.nat({ max: 13 }), fc.nat({ max: 13 })), {
    maxLength: 40,
    selector: ([a, b]) => `${a} ${b}`,
  })
  .map((pairs) =>
    pairs
      .filter(([a, b]) => a !== b)
      .map(([a, b]): Edge => ({ parent: `n${Math.min(a, b)}`, child: `n${Math.max(a, b)}` })),
  );
