import { expect, test } from 'vitest';
import { weakYeastVerdict } from '#shared/science/weakYeast.ts';

// Murphy & Son, "Pitching of yeast": at most 10 to 25 % extra; 1/1.1 = 0.909 and 1/1.25 = 0.80.
test.each([
  [1, 'normal'],
  [0.91, 'normal'],
  [0.909, 'caution'],
  [0.8, 'caution'],
  [0.799, 'reject'],
])('weakYeastVerdict(%f) is %s', (viability, verdict) => {
  expect(weakYeastVerdict(viability)).toMatchObject({ verdict, correction: 1 / viability });
});

test('weakYeastVerdict(v) refuses a percentage or nothing alive', () => {
  for (const viability of [0, 94, NaN]) {
    expect(() => weakYeastVerdict(viability)).toThrow(RangeError);
  }
});
