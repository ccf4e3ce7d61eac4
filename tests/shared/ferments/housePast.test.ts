import { expect, test } from 'vitest';
import { housePast, type PastCandidate } from '#shared/ferments/housePast.ts';

const candidate = (generation: number, halfTimeHours = 27): PastCandidate => ({
  generation,
  ferment: {
    beer: 'Headland Bitter',
    originalGravitySg: 1.04,
    endGravitySg: 1.0098,
    ratePerHour: 0.11,
    // A little apart, so that the settled ones have a scatter of their own.
    halfTimeHours: halfTimeHours * (1 + 0.02 * ((generation % 3) - 1)),
  },
});
const generations = (from: number, to: number) =>
  Array.from({ length: to - from + 1 }, (_, i) => from + i);
const settled = generations(2, 5).flatMap((n) => [candidate(n), candidate(n), candidate(n)]);

test('housePast(…) holds settled yeast to generations 2 to 5, whatever they did', () => {
  const candidates = [candidate(0, 34), candidate(1, 30), ...settled, candidate(3, 40)];
  const { group, ferments } = housePast({ candidates, generation: 4 });
  expect(group).toBe('settled generations');
  expect(ferments).toEqual([...settled, candidate(3, 40)].map(({ ferment }) => ferment));
});

test('housePast(…) takes a later generation that did like them, and leaves out one that did not', () => {
  const sound = candidate(7);
  const tired = candidate(9, 27 * 1.4);
  const { ferments } = housePast({ candidates: [...settled, sound, tired], generation: 8 });
  expect(ferments).toContainEqual(sound.ferment);
  expect(ferments).not.toContainEqual(tired.ferment);
});

test('housePast(…) lets no tiring line widen its own band, one step after another', () => {
  const tiring = generations(6, 10).map((n) => candidate(n, 27 * (1 + 0.09 * (n - 5))));
  const { ferments } = housePast({ candidates: [...settled, ...tiring], generation: 10 });
  const slowest = Math.max(...ferments.map(({ halfTimeHours }) => halfTimeHours));
  expect(slowest).toBeLessThan(27 * 1.3);
});

test('housePast(…) holds the first generations to each other', () => {
  const fresh = [candidate(0, 34), candidate(1, 30)];
  const { group, ferments } = housePast({ candidates: [...fresh, ...settled], generation: 1 });
  expect(group).toBe('first generations');
  expect(ferments).toEqual(fresh.map(({ ferment }) => ferment));
});
