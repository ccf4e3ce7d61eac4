import { expect, test } from 'vitest';
import { expectedBand } from '#shared/science/fermentBand.ts';
import type { PastFerment } from '#shared/science/housePace.ts';
import { degreesAt } from '#shared/science/plausibleFerments.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const target = Object.freeze({ originalGravitySg: 1.042 });

/** An invented house strain: half time 27 h +- 8 %, rate 0.11 +- 15 %, attenuation 76 +- 1.2 %. */
function houseFerment(random: ReturnType<typeof seededRandom>): PastFerment {
  const original = 42 + random.normal(0, 1);
  return {
    halfTimeHours: 27 * random.logNormal(0.08),
    ratePerHour: 0.11 * random.logNormal(0.15),
    originalGravitySg: 1 + original / 1000,
    endGravitySg: 1 + (original * (1 - random.normal(0.76, 0.012))) / 1000,
  };
}

function coverage(pastCount: number, seed: number) {
  const random = seededRandom(seed);
  const hours = [12, 24, 36, 48, 60];
  let inside = 0;
  let width = 0;
  let checked = 0;
  for (let brewery = 0; brewery < 40; brewery++) {
    const past = Array.from({ length: pastCount }, () => houseFerment(random));
    const band = expectedBand({ past, target, confidence: 0.95 });
    const edges = hours.map((hour) => ({ hour, ...band.at(hour) }));
    for (let next = 0; next < 25; next++) {
      const { endGravitySg, ...pace } = houseFerment(random);
      const ferment = { ...pace, originalDegrees: 42, endDegrees: (endGravitySg - 1) * 1000 };
      for (const { hour, low, high } of edges) {
        const gravitySg = 1 + degreesAt(ferment, hour) / 1000;
        if (gravitySg >= low && gravitySg <= high) inside++;
        width += (high - low) * 1000;
        checked++;
      }
    }
  }
  return { share: inside / checked, widthDegrees: width / checked, checked };
}

test('expectedBand({ past }) covers about 95 % of the next ferments, and narrows as they come in', () => {
  const [few, some, many] = [2, 8, 40].map((count) => coverage(count, 100 + count));
  console.log(
    'band coverage and mean width in degrees, 2, 8 and 40 past ferments',
    few,
    some,
    many,
  );
  // 5,000 gravities each, but only 40 sets of past ferments: the share strays by about 1.5 %.
  expect(few?.share).toBeGreaterThan(0.93);
  expect(some?.share).toBeGreaterThan(0.93);
  expect(many?.share).toBeGreaterThan(0.93);
  expect(many?.share).toBeLessThan(0.98);
  expect(many?.widthDegrees).toBeLessThan(0.8 * (few?.widthDegrees ?? NaN));
});

test('expectedBand({ past: [] }) rests on published figures and says so', () => {
  const band = expectedBand({ past: [], target, confidence: 0.95 });
  expect(band).toMatchObject({ basis: 'published figures', pastFerments: 0 });
  expect(band.halfTimeHours.low).toBeLessThan(20);
  expect(band.halfTimeHours.high).toBeGreaterThan(36);
});

test('expectedBand({ past }) names its basis by the number of ferments', () => {
  const random = seededRandom(1);
  const past = Array.from({ length: 12 }, () => houseFerment(random));
  const basisOf = (count: number) =>
    expectedBand({ past: past.slice(0, count), target, confidence: 0.9 }).basis;
  expect([1, 7, 8, 12].map(basisOf)).toEqual(['pooled', 'pooled', 'own ferments', 'own ferments']);
});

test('band.at(hours) starts at the original gravity, falls, and keeps its order', () => {
  const random = seededRandom(2);
  const past = Array.from({ length: 10 }, () => houseFerment(random));
  const band = expectedBand({ past, target, confidence: 0.95 });
  expect(band.at(0)).toEqual({ low: 1.042, mid: 1.042, high: 1.042 });
  let before = 1.042;
  for (const hours of [6, 12, 24, 36, 48, 72, 120]) {
    const { low, mid, high } = band.at(hours);
    expect(low).toBeLessThan(mid);
    expect(mid).toBeLessThan(high);
    expect(mid).toBeLessThan(before);
    before = mid;
  }
  expect(band.at(2000).mid).toBeCloseTo(band.endGravitySg.mid, 12);
});

test('expectedBand({ confidence }) is wider the surer it is to be', () => {
  const width = (confidence: number) => {
    const { low, high } = expectedBand({ past: [], target, confidence }).at(30);
    return high - low;
  };
  expect(width(0.5)).toBeLessThan(width(0.8));
  expect(width(0.8)).toBeLessThan(width(0.99));
  expect(() => width(1)).toThrow(RangeError);
});
