import fc from 'fast-check';
import { expect, test } from 'vitest';
import { controlChartCalculation } from '#shared/calculations/controlChartCalculation.ts';
import { countCalculation } from '#shared/calculations/countCalculation.ts';
import { fermentCalculation } from '#shared/calculations/fermentCalculation.ts';
import { replacementCalculation } from '#shared/calculations/replacementCalculation.ts';
import { trendCalculation } from '#shared/calculations/trendCalculation.ts';
import { anApi } from '#tests/support/server.ts';

// Bodies of the schema, leaning to its ends: the general fuzz seldom meets one that gets through,
// as lists must be of one length and gravities possible.
const runs = { numRuns: 150, seed: 20_260_302 };
const tiny = 5e-324;

const between = (min: number, max: number) =>
  fc.oneof(fc.double({ min, max, noNaN: true }), fc.constantFrom(min, max));
const sized = fc
  .tuple(between(-12, 11.99), fc.constantFrom(1, -1))
  .map(([exponent, sign]) => sign * 10 ** exponent);
const plain = fc.oneof(sized, fc.integer({ min: -30, max: 30 }), fc.constantFrom(0, 1e12, -1e12));

const gravity = fc.oneof(
  fc.record({ gravitySg: fc.oneof(between(0.98, 1.2), fc.constantFrom(1, 1.04, 1040, 990)) }),
  fc.record({ gravityPlato: between(-10, 40) }),
);
const hours = fc.oneof(between(-1000, 10_000), fc.constantFrom(0, tiny, 1, 1 + 2 ** -52));
const reading = fc.tuple(hours, gravity).map(([at, given]) => ({ hours: at, ...given }));
const falling = fc
  .array(fc.tuple(between(0, 0.02), between(0, 300)), { minLength: 1, maxLength: 30 })
  .map((steps) => {
    let [at, gravitySg] = [0, 1.1];
    return steps.map(([fall, wait]) => {
      at += wait;
      gravitySg = Math.max(0.98, gravitySg - fall);
      return { hours: at, gravitySg };
    });
  });

const chance = fc.oneof(between(0, 1), fc.constantFrom(tiny, 1 - 2 ** -53));
const cost = fc.oneof(between(0, 1e9), fc.constantFrom(tiny));

const bodies = {
  ferment: fc.record(
    {
      readings: fc.oneof(fc.array(reading, { minLength: 1, maxLength: 40 }), falling),
      originalGravitySg: between(0.98, 1.2),
    },
    { requiredKeys: ['readings'] },
  ),
  trend: fc
    .uniqueArray(plain, { minLength: 3, maxLength: 40, comparator: (a, b) => a === b })
    .chain((times) =>
      fc.record(
        {
          times: fc.constant(times),
          values: fc.array(plain, { minLength: times.length, maxLength: times.length }),
          confidence: between(0.5, 0.999),
        },
        { requiredKeys: ['times', 'values'] },
      ),
    ),
  'control-chart': fc
    .tuple(
      fc.array(plain, { minLength: 2, maxLength: 40 }),
      fc.record({ centre: plain, sigma: fc.oneof(between(1e-12, 1e12), fc.constantFrom(tiny)) }),
      fc.record({ lambda: fc.constantFrom(tiny, 0.2, 1), floor: fc.constant(-1e12) }),
    )
    .map(([values, known, rest]) => ({ values, ...known, ...rest })),
  replacement: fc.record({
    costs: fc.record(
      { freshCulture: cost, handlingPerBrew: cost, extraPerGeneration: cost, lostBrew: cost },
      { requiredKeys: ['freshCulture'] },
    ),
    failureChance: fc.array(chance, { minLength: 1, maxLength: 500 }),
    afterLoss: fc.constantFrom('carry on' as const, 'renew' as const),
  }),
  count: fc.record({
    fillings: fc
      .array(fc.array(fc.integer({ min: 0, max: 10_000 }), { minLength: 1, maxLength: 25 }), {
        minLength: 1,
        maxLength: 4,
      })
      // One dilution, and no square so far from another that the fillings are of no one sample.
      .map((fillings) =>
        fillings.map((squares) => ({
          squares: squares.map((cells) => (cells < 20 ? 0 : cells)),
          dilutionFactor: 100,
        })),
      ),
    squareAreaMm2: between(1e-6, 100),
    depthMm: between(1e-3, 5),
  }),
};

/** Where in an answer a number is that JSON has no word for. */
function unsayable(value: unknown, path = ''): string[] {
  if (typeof value === 'number') return Number.isFinite(value) ? [] : [`${path} is ${value}`];
  if (typeof value !== 'object' || value === null) return [];
  return Object.entries(value).flatMap(([name, part]) => unsayable(part, `${path}.${name}`));
}

async function holds<T>(name: string, body: fc.Arbitrary<T>, calculation: (body: T) => unknown) {
  const { post } = await anApi();
  let taken = 0;
  await fc.assert(
    fc.asyncProperty(body, async (given) => {
      const response = await post(`/api/calculations/${name}`, given);
      const about = `${response.status} ${(await response.text()).slice(0, 300)}`;
      expect([200, 422], about).toContain(response.status);
      if (response.status !== 200) return;
      taken += 1;
      expect(unsayable(calculation(given))).toEqual([]);
    }),
    runs,
  );
  expect(taken).toBeGreaterThan(runs.numRuns / 2);
}

test('POST /calculations/ferment answers every possible ferment in finite numbers', () =>
  holds('ferment', bodies.ferment, fermentCalculation));

test('POST /calculations/trend answers every possible series in finite numbers', () =>
  holds('trend', bodies.trend, trendCalculation));

test('POST /calculations/control-chart answers every possible series in finite numbers', () =>
  holds('control-chart', bodies['control-chart'], controlChartCalculation));

test('POST /calculations/replacement answers every possible price in finite numbers', () =>
  holds('replacement', bodies.replacement, replacementCalculation));

test('POST /calculations/count answers every possible count in finite numbers', () =>
  holds('count', bodies.count, countCalculation));

test.each([
  ['trend', { times: [0, 1, tiny], values: [1, 2, 3] }, 'times.2'],
  ['control-chart', { values: [1, 2], centre: 1e300, sigma: 1 }, 'centre'],
  ['control-chart', { values: [1, 2], centre: 1, sigma: 1.7e308 }, 'sigma'],
  [
    'count',
    {
      fillings: [
        { squares: [40], dilutionFactor: 1 },
        { squares: [41], dilutionFactor: 1e6 },
      ],
      squareAreaMm2: 0.04,
      depthMm: 0.1,
    },
    'fillings',
  ],
  [
    'pitch',
    {
      wort: { volumeL: 1600, gravitySg: 1.04 },
      rateMillionPerMlPerPlato: 0.75,
      lots: [{ cellsPerMl: 1e9, viabilityPercent: tiny }],
    },
    'lots.0.viabilityPercent',
  ],
])('POST /calculations/%s names the field no sum can be done with', async (name, body, path) => {
  const { post } = await anApi();
  const response = await post(`/api/calculations/${name}`, body);
  expect(response.status).toBe(422);
  expect((await response.json()).errors.map((error: { path: string }) => error.path)).toContain(
    path,
  );
});
