import fc from 'fast-check';
import { expect, test } from 'vitest';
import { layoutOf } from '#shared/lineage/layout.ts';
import { ranksOf } from '#shared/lineage/ranks.ts';
import type { Edge } from '#shared/lineage/reach.ts';
import { families } from './families.ts';

const idsOf = (edges: readonly Edge[]) => [
  ...new Set(['n0', ...edges.flatMap(({ parent, child }) => [parent, child])]),
];

test('layoutOf gives every record a place of its own, right of all its parents', () => {
  fc.assert(
    fc.property(families, (edges) => {
      const ids = idsOf(edges);
      const { places, columns, rows } = layoutOf(ids, edges);
      const taken = new Set([...places.values()].map(({ column, row }) => `${column} ${row}`));
      expect(taken.size).toBe(ids.length);
      for (const { parent, child } of edges)
        expect(places.get(parent)?.column).toBeLessThan(places.get(child)?.column ?? -1);
      for (const { column, row } of places.values())
        expect(column < columns && row < rows).toBe(true);
    }),
  );
});

test('branches of the tree of first parents never cross', () => {
  fc.assert(
    fc.property(families, (edges) => {
      const { places, tree } = layoutOf(idsOf(edges), edges);
      const drawn = [...tree].map(({ parent, child }) => ({
        column: places.get(parent)?.column ?? 0,
        skips: (places.get(child)?.column ?? 0) - (places.get(parent)?.column ?? 0) - 1,
        from: places.get(parent)?.row ?? 0,
        to: places.get(child)?.row ?? 0,
      }));
      for (const one of drawn) {
        expect(one.skips).toBe(0);
        for (const other of drawn)
          if (one.column === other.column)
            expect((one.from - other.from) * (one.to - other.to)).toBeGreaterThanOrEqual(0);
      }
    }),
  );
});

test('a line of ten thousand passes is laid out in one row', () => {
  const ids = Array.from({ length: 10_000 }, (_, index) => `n${index}`);
  const edges = ids.slice(1).map((child, index) => ({ parent: `n${index}`, child }));
  const { columns, rows } = layoutOf(ids, edges);
  expect([columns, rows]).toEqual([10_000, 1]);
});

test('ranksOf takes the longest way and refuses a circle', () => {
  const edges = [
    { parent: 'a', child: 'b' },
    { parent: 'b', child: 'c' },
    { parent: 'a', child: 'c' },
  ];
  expect(ranksOf(['a', 'b', 'c'], edges).get('c')).toBe(2);
  expect(() => ranksOf(['a', 'b'], [...edges.slice(0, 1), { parent: 'b', child: 'a' }])).toThrow(
    new RangeError('ranksOf: edges must not run in a circle, got 2 records on one'),
  );
});
