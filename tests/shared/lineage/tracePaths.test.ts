import { expect, test } from 'vitest';
import { dayMs } from '#shared/durations.ts';
import { caskDays } from '#shared/lineage/mattersStill.ts';
import type { TraceNode } from '#shared/lineage/traceNodes.ts';
import { listedOf } from '#shared/lineage/tracePaths.ts';

const nowMs = Date.UTC(2026, 10, 30);

const aNode = (facts: Partial<TraceNode> & { id: string; steps: number }): TraceNode => ({
  ...{ kind: 'lot', label: facts.id, detail: '', siteId: null, generation: null, left: null },
  ...{ at: new Date(nowMs - 400 * dayMs).toISOString(), state: 'used up', status: 'plain' },
  ...{ batches: [], side: 'downstream', through: null, alsoFrom: [], marks: [] },
  ...facts,
});
const daysAgo = (days: number) => new Date(nowMs - days * dayMs).toISOString();

const family = [
  aNode({ id: 'far in store', steps: 9, state: 'in store' }),
  aNode({ id: 'near and gone', steps: 1 }),
  aNode({ id: 'next and gone', steps: 2 }),
  aNode({ id: 'in FV', steps: 8, kind: 'ferment', state: 'fermenting' }),
  aNode({ id: 'racked', steps: 3, kind: 'ferment', state: 'racked' }),
  aNode({ id: 'old cask', steps: 4, kind: 'casks', at: daysAgo(caskDays + 1) }),
  aNode({ id: 'late cask', steps: 7, kind: 'casks', at: daysAgo(caskDays - 1) }),
  aNode({ id: 'grew', steps: 6, status: 'grew' }),
  aNode({ id: 'traced', steps: 0, side: 'start' }),
];
const listed = (most: number) => listedOf(family, most, nowMs).map(({ id }) => id);

test('a family that fits is listed nearest first', () => {
  expect(listed(9)).toEqual([
    ...['traced', 'near and gone', 'next and gone', 'racked', 'old cask'],
    ...['grew', 'late cask', 'in FV', 'far in store'],
  ]);
});

test('of a larger one the record traced and what matters still come first, then the nearest', () => {
  const first = ['traced', 'grew', 'late cask', 'in FV', 'far in store'];
  expect(listed(7)).toEqual([...first, 'near and gone', 'next and gone']);
  expect(listed(2)).toEqual(first);
});
