import fc from 'fast-check';
import { expect, test } from 'vitest';
import { ancestorsOf, descendantsOf, type Edge, pathTo } from '#shared/lineage/reach.ts';
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

const turned = (edges: readonly Edge[]) =>
  edges.map(({ parent, child }) => ({ parent: child, child: parent }));

test('descendantsOf and ancestorsOf find what going all ways finds', () => {
  fc.assert(
    fc.property(families, fc.nat({ max: 13 }), (edges, at) => {
      const start = `n${at}`;
      expect(new Set(descendantsOf(start, edges).keys())).toEqual(bruteForce(start, edges));
      expect(new Set(ancestorsOf(start, edges).keys())).toEqual(bruteForce(start, turned(edges)));
    }),
  );
});

test('pathTo(id) runs along edges from the record traced, as many as its steps', () => {
  fc.assert(
    fc.property(families, fc.nat({ max: 13 }), (edges, at) => {
      const reached = descendantsOf(`n${at}`, edges);
      for (const [id, { steps }] of reached) {
        const path = pathTo(id, reached);
        expect([path[0], path.at(-1), path.length]).toEqual([`n${at}`, id, steps + 1]);
        path.slice(1).forEach((child, index) => {
          expect(edges.some((edge) => edge.parent === path[index] && edge.child === child)).toBe(
            true,
          );
        });
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

test('pathTo(id) of a record that was not reached is empty', () => {
  expect(pathTo('z', descendantsOf('a', []))).toEqual([]);
});
