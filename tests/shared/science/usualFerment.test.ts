import { expect, test } from 'vitest';
import type { PastFerment } from '#shared/science/housePace.ts';
import { isUsualFerment } from '#shared/science/usualFerment.ts';
import { seededRandom } from '../../support/seededRandom.ts';

/** An invented house strain: half time 27 h +- 8 %, rate 0.11 +- 15 %, attenuation 76 +- 1.2 %. */
function houseFerment(random: ReturnType<typeof seededRandom>): PastFerment {
  return {
    halfTimeHours: 27 * random.logNormal(0.08),
    ratePerHour: 0.11 * random.logNormal(0.15),
    originalGravitySg: 1.042,
    endGravitySg: 1 + 0.042 * (1 - random.normal(0.76, 0.012)),
  };
}

test('isUsualFerment(ferment, others, 0.95) passes about nine sound ferments in ten', () => {
  const random = seededRandom(31);
  const others = Array.from({ length: 60 }, () => houseFerment(random));
  const passed = Array.from({ length: 400 }, () =>
    isUsualFerment(houseFerment(random), others, 0.95),
  ).filter(Boolean).length;
  // 0.95 for each of two figures is 0.90 of both; the standard deviation of 400 is 1.5 %.
  expect(passed / 400).toBeGreaterThan(0.85);
  expect(passed / 400).toBeLessThan(0.99);
});

test('isUsualFerment(ferment, others, confidence) refuses one half as slow again, or that stopped early', () => {
  const random = seededRandom(32);
  const others = Array.from({ length: 30 }, () => houseFerment(random));
  const usual = { halfTimeHours: 27, ratePerHour: 0.11, originalGravitySg: 1.042 };
  const isUsual = (change: Partial<PastFerment>) =>
    isUsualFerment({ ...usual, endGravitySg: 1.0101, ...change }, others, 0.95);
  expect(isUsual({})).toBe(true);
  expect(isUsual({ halfTimeHours: 40 })).toBe(false);
  expect(isUsual({ endGravitySg: 1.016 })).toBe(false);
});

test('isUsualFerment(ferment, [], confidence) takes what is remembered of ale, and refuses no confidence', () => {
  const ferment = {
    halfTimeHours: 27,
    ratePerHour: 0.11,
    originalGravitySg: 1.042,
    endGravitySg: 1.01,
  };
  expect(isUsualFerment(ferment, [], 0.95)).toBe(true);
  expect(() => isUsualFerment(ferment, [], 1)).toThrow(RangeError);
});
