import fc from 'fast-check';
import { expect, test } from 'vitest';
import { descendantsOf, type Edge } from '#shared/lineage/reach.ts';
import { families } from './families.ts';

/** Every record some way down leads to, found by going all ways. */
function bruteForce(start: string, edges: readonly Edge[]): Set<string> {
  const found = new Set([start]);
  const go = (id: string) => {
    for (const { parent, child } of edges)
      if (parent === id) {
        found.add(child);
        go(child);
      }
  };
  go(start);
  return found;
}

test('descendantsOf finds what going all ways finds', () => {
  fc.assert(
    fc.property(families, fc.nat({ max: 13 }), (edges, at) => {
      const start = `n${at}`;
      expect(new Set(descendantsOf(start, edges).keys())).toEqual(bruteForce(start, edges));
    }),
  );
});

test('each record is reached through a neighbour one step nearer, along an edge', () => {
  fc.assert(
    fc.property(families, fc.nat({ max: 13 }), (edges, at) => {
      const reached = descendantsOf(`n${at}`, edges);
      expect(reached.get(`n${at}`)).toEqual({ steps: 0, through: null });
      for (const [id, { steps, through }] of reached) {
        if (through === null) continue;
        expect(edges.some(({ parent, child }) => parent === through && child === id)).toBe(true);
        expect(reached.get(through)?.steps).toBe(steps - 1);
      }
    }),
  );
});

test('descendantsOf takes the shortest of two ways, and ends on a circle', () => {
  const edges = [
    { parent: 'a', child: 'b' },
    { parent: 'b', child: 'c' },
    { parent: 'a', child: 'c' },
    { parent: 'c', child: 'a' },
  ];
  expect(descendantsOf('a', edges).get('c')).toEqual({ steps: 1, through: 'a' });
  expect(descendantsOf('a', edges).size).toBe(3);
});
