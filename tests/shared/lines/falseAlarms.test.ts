import { expect, test } from 'vitest';
import { lineMeasures } from '#shared/lines/lineMeasures.ts';
import { measureDrift, type Taken } from '#shared/lines/measureDrift.ts';
import { generalLimits } from '#shared/verdictRules/limits.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const lastGeneration = 12;
const lines = 200;
const judgedFrom = 6;
const worsening = lineMeasures.filter(({ worse }) => worse !== null);

type Random = ReturnType<typeof seededRandom>;

/** Two ferments a generation, in standard deviations; the first two generations far off. */
function series(random: Random, declineAt: (generation: number) => number): Taken[] {
  return Array.from({ length: 2 * (lastGeneration + 1) }, (_, nth) => {
    const generation = Math.floor(nth / 2);
    const fresh = generation < 2 ? 2.5 : 0;
    const value = random.normal() + fresh + declineAt(generation);
    return { fermentId: String(nth), generation, value };
  });
}

/** The first generations at which one measure, and as many as make a line tired, decline. */
function watched(random: Random, declineAt: (generation: number) => number) {
  const others = worsening.map(() =>
    Array.from({ length: 3 }, () => Array.from({ length: 8 }, () => random.normal())),
  );
  const taken = worsening.map(({ worse }) =>
    series(random, declineAt).map((each) =>
      worse === 'lower' ? { ...each, value: -each.value } : each,
    ),
  );
  let drifting: number | undefined;
  let tired: number | undefined;
  for (let count = 2 * judgedFrom + 1; count <= 2 * (lastGeneration + 1); count++) {
    const declining = worsening.filter(
      (measure, i) =>
        measureDrift(taken[i]?.slice(0, count) ?? [], measure, others[i] ?? []).found.isDecline,
    ).length;
    const generation = Math.floor((count - 1) / 2);
    if (declining > 0) drifting ??= generation;
    if (declining >= generalLimits.tiredMeasures) tired ??= generation;
  }
  return { drifting, tired };
}

function calls(seed: number, declineAt: (generation: number) => number) {
  const random = seededRandom(seed);
  const seen = Array.from({ length: lines }, () => watched(random, declineAt));
  const summary = (name: 'drifting' | 'tired') => {
    const found = seen.flatMap(({ [name]: generation }) =>
      generation === undefined ? [] : [generation],
    );
    const mean = found.reduce((sum, generation) => sum + generation, 0) / found.length;
    return { share: found.length / lines, meanGeneration: Math.round(10 * mean) / 10 };
  };
  return { drifting: summary('drifting'), tired: summary('tired') };
}

test('a steady line is seldom called drifting and hardly ever tired in twelve generations', () => {
  const found = calls(91, () => 0);
  console.log(`${lines} steady lines, four measures, by generation 12:`, JSON.stringify(found));
  // Of one measure at most 10 % are called by generation 25, either way: lineDrift.test.ts. Four, one
  // way each, are then at most 20 %, and two of them at once 6 x 5 % x 5 %.
  expect(found.drifting.share).toBeLessThan(0.2);
  expect(found.tired.share).toBeLessThan(0.015);
});

test('a line whose measures all creep away is called within a few generations', () => {
  const creeping = calls(92, (generation) => 0.5 * Math.max(0, generation - 5));
  console.log('all four creep by half a standard deviation from 6:', JSON.stringify(creeping));
  expect(creeping.drifting.share).toBeGreaterThan(0.97);
  expect(creeping.tired.share).toBeGreaterThan(0.9);
  expect(creeping.tired.meanGeneration).toBeLessThan(10.5);
});
