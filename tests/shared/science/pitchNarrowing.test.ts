import { expect, test } from 'vitest';
import { pitchNarrowing } from '#shared/science/pitchNarrowing.ts';

const lot = {
  ...{ id: 'A', unit: 'L' as const, cellsPerMl: 1e9, concentrationLogSd: 0.0824 },
  ...{ viability: 0.9, viabilityLogSd: 0.0167 },
};

// An ordinary count: sqrt(1/400 + .046^2 + .047^2) = 0.0826; joined with one alike it halves.
test('a second ordinary count nearly halves the variance of the first', () => {
  const count = pitchNarrowing([lot], [5]).find(({ measurement }) => measurement === 'count');
  const halved = Math.sqrt(0.0824 ** 2 / 2 + 0.0167 ** 2);
  expect(count?.toPercent).toBeCloseTo(100 * Math.expm1(1.959964 * halved), 1);
});

test('measuring a lot that is not pitched narrows nothing', () => {
  const idle = { ...lot, id: 'B' };
  const lots = pitchNarrowing([lot, idle], [5, 0]).map(({ lotId }) => lotId);
  expect(lots.length).toBeGreaterThan(0);
  expect(lots).not.toContain('B');
});

test('a lot known exactly leaves nothing to narrow', () => {
  const exact = { ...lot, concentrationLogSd: 0, viabilityLogSd: 0 };
  expect(pitchNarrowing([exact], [5])).toEqual([]);
});
