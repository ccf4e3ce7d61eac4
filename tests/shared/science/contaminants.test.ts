import { expect, test } from 'vitest';
import {
  againstLimit,
  contaminantsPerMillion,
  WILD_YEAST_DISCARD_PER_MILLION,
} from '#shared/science/contaminants.ts';

// The rule of three: nothing among N leaves 3/N at 95 % (Hanley & Lippman-Hand 1983, from memory).
test.each([
  [1e6, 3],
  [3e6, 1],
  [1e7, 0.3],
])('no colony of %d cells leaves less than about %d per million', (cellsPlated, about) => {
  const { value, low, high } = contaminantsPerMillion(0, cellsPlated);
  expect([value, low]).toEqual([0, 0]);
  expect(Math.abs(high - about) / about).toBeLessThan(0.002);
});

// Garwood 1936: of 10 seen, 4.795 to 18.39 at 95 %.
test('ten colonies of five million cells are 2 per million, 0.959 to 3.678', () => {
  const { value, low, high } = contaminantsPerMillion(10, 5e6);
  expect(value).toBeCloseTo(2, 12);
  expect(low).toBeCloseTo(0.959, 3);
  expect(high).toBeCloseTo(3.678, 3);
});

test('contaminantsPerMillion refuses half a colony and a plate without cells', () => {
  expect(() => contaminantsPerMillion(0.5, 1e6)).toThrow(/colonies must be a whole number/);
  expect(() => contaminantsPerMillion(1, 0)).toThrow(/cellsPlated must be > 0/);
  expect(() => contaminantsPerMillion(1, Number.NaN)).toThrow(RangeError);
});

// Richards 1968: pitching yeast is thrown away at 100 wild yeasts per million.
test('againstLimit says over only when the lower limit reaches it', () => {
  const judged = (colonies: number) =>
    againstLimit(contaminantsPerMillion(colonies, 1e6), WILD_YEAST_DISCARD_PER_MILLION);
  expect([judged(60), judged(90), judged(110), judged(150)]).toEqual([
    'under',
    'unclear',
    'unclear',
    'over',
  ]);
  expect(() => againstLimit({ low: 0, high: 1 }, 0)).toThrow(/limit must be > 0/);
});
