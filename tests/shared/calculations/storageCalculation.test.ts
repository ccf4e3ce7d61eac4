import { expect, test } from 'vitest';
import { storageCalculation } from '#shared/calculations/storageCalculation.ts';

const stained = (live: number, dead: number, limitPercent: number) =>
  storageCalculation({ live, dead, stain: 'methylene blue', history: [], limitPercent });

// Below 90 % methylene blue reads too high (general teaching): 85 % is the most that is alive, not the
// least. Wilson 1927 by hand: 340 of 400 is 81.17 to 88.17 %.
test('a stain that only tells the most leaves open whether a lower limit is met', () => {
  const found = stained(340, 60, 80);
  expect(found).toMatchObject({ atMost: true, low: 0, stainAgain: true });
  expect(found.high).toBeCloseTo(88.17, 2);
  // Above the most that can be alive there is nothing to ask again.
  expect(stained(340, 60, 90).stainAgain).toBe(false);
});

// Wilson 1927: 380 of 400 is 92.40 to 96.74 %.
test('a stain that holds is asked for again only where the limit lies in its range', () => {
  expect(stained(380, 20, 90)).toMatchObject({ atMost: false, stainAgain: false });
  expect(stained(380, 20, 93).stainAgain).toBe(true);
  expect(stained(380, 20, 97).stainAgain).toBe(false);
});
