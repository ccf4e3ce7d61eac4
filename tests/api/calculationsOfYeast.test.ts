import fc from 'fast-check';
import { expect, test } from 'vitest';
import { anApi } from '#tests/support/server.ts';

async function answer(path: string, body: unknown) {
  const { post } = await anApi();
  const response = await post(`/api/calculations/${path}`, body);
  return { status: response.status, body: await response.json() };
}

const wort = { volumeL: 1636.5924, gravitySg: 1.04 };
const lot = { cellsPerMl: 1.2e9, relativeError: 0.2, live: 376, dead: 24 };
const pitch = (lots: unknown[], change = {}) =>
  answer('pitch', { wort: { ...wort, ...change }, rateMillionPerMlPerPlato: 0.75, lots });

// First-order fit to McCaig & Bendiak 1985: at 4 °C 3 days leave 0.950, 7 days 0.887.
test.each([
  [72, 0.95],
  [168, 0.887],
])('POST storage: %i h at 4 °C leave %f of the living', async (hours, left) => {
  const { status, body } = await answer('storage', {
    viabilityPercent: 95,
    history: [{ hours, tempC: 4 }],
  });
  expect(status).toBe(200);
  expect(body.predicted).toBe(true);
  expect(body.survival.fraction).toBeCloseTo(left, 3);
  expect(body.percent).toBeCloseTo(95 * left, 1);
  expect(body.low).toBeLessThan(body.percent);
  expect(body.high).toBeGreaterThan(body.percent);
});

test('POST storage: a warm weekend counts for more than a cold week', async () => {
  const days = async (history: unknown) =>
    (await answer('storage', { viabilityPercent: 95, history })).body.equivalentDays;
  const cold = await days([{ hours: 168, tempC: 2 }]);
  expect(await days([{ hours: 48, tempC: 18 }])).toBeGreaterThan(cold);
  expect(await days([{ hours: 24, tempC: 1 }])).toBeCloseTo(1, 12);
});

test('POST storage asks for a stain only when the range lies on both sides of the limit', async () => {
  const history = [{ hours: 72, tempC: 4 }];
  const stained = { live: 380, dead: 20, stain: 'methylene blue', history };
  const asked = await answer('storage', { ...stained, limitPercent: 90 });
  expect(asked.body.stainAgain).toBe(true);
  expect(asked.body.warnings.join(' ')).toContain('stain it again');
  const sure = await answer('storage', { ...stained, limitPercent: 50 });
  expect(sure.body.stainAgain).toBe(false);
});

test('POST storage: what the stain could only limit stays a limit', async () => {
  const { body } = await answer('storage', {
    ...{ live: 340, dead: 60, stain: 'methylene blue' },
    history: [],
  });
  expect(body).toMatchObject({ percent: 85, low: 0, atMost: true });
});

test('POST pitch below the stain’s validity gives the least amount and the most rate', async () => {
  const { body } = await pitch([{ ...lot, live: 340, dead: 60, stain: 'methylene blue' }]);
  expect(body.lots[0].high).toBeNull();
  expect(body.lots[0].amount).toBeGreaterThan(11.9);
  expect(body.achieved).toMatchObject({ atMost: true, low: 0 });
  expect(body.lots[0].weak.verdict).toBe('caution');
  expect(body.warnings.join(' ')).toContain('least it can be');
});

test('POST pitch gives no amount of yeast to be rejected, and goes on with the next lot', async () => {
  const dead = { ...lot, id: 'A', live: 280, dead: 120 };
  const { body } = await pitch([dead, { ...lot, id: 'B' }]);
  expect(body.lots[0]).toMatchObject({ id: 'A', amount: null, low: null, high: null });
  expect(body.lots[0].weak.verdict).toBe('reject');
  expect(body.lots[1].amount).toBeCloseTo(10.87, 1);
  expect(body.warnings.join(' ')).toContain('Reject it');
  const reverse = await pitch([{ ...dead, useL: 12 }]);
  expect(reverse.body.achieved.rateMillionPerMlPerPlato).toBeGreaterThan(0.5);
});

test('POST pitch takes guesses and says that they are', async () => {
  const { body } = await pitch([{ fallback: 'pressed' }, { spunPercent: 38 }]);
  expect(body.lots.map(({ unit }: { unit: string }) => unit)).toEqual(['kg', 'L']);
  // 4.5e9 cells/g and 90 % alive: 1.2265e13 / (4.5e12 × 0.9) kg.
  expect(body.lots[0].amount).toBeCloseTo(3.03, 2);
  expect(body.warnings.join(' ')).toMatch(/Nobody counted it.*Nobody stained it/);
  const spun = await pitch([{ spunPercent: 40, viabilityPercent: 95 }]);
  expect(spun.body.lots[0].amount).toBeCloseTo(1.2265e13 / (40 * 3.4e7 * 1000 * 0.95), 2);
});

test('POST pitch the other way round: 12 L of it were so many million', async () => {
  const { body } = await pitch([{ ...lot, useL: 12 }]);
  expect(body.achieved.rateMillionPerMlPerPlato).toBeCloseTo((0.75 * 12) / 10.87, 2);
  expect(body.shortage).toBeNull();
});

test('POST pitch takes a bias found in the FV into the sum when it is asked to', async () => {
  const plain = await pitch([lot]);
  const corrected = await pitch([{ ...lot, slurryCorrection: { ratio: 0.8, logSd: 0.1 } }]);
  const ratio = corrected.body.lots[0].amount / plain.body.lots[0].amount;
  expect(ratio).toBeCloseTo(1 / 0.8, 9);
  const width = ({ low, high }: { low: number; high: number }) => high / low;
  expect(width(corrected.body.lots[0])).toBeGreaterThan(width(plain.body.lots[0]));
});

// By hand: 10.87 L bring 6.52 L of beer; (40 × 1636.6 + 10 × 6.52) / 1643.1 = 39.88.
test('POST pitch tells what the beer in the yeast does to the wort', async () => {
  const { body } = await pitch([{ ...lot, beerGravitySg: 1.01, beerAbvPercent: 4 }]);
  expect(body.beerInYeast.fallDegrees).toBeCloseTo(0.119, 3);
  expect(body.beerInYeast.matters).toBe(false);
  const thin = { cellsPerMl: 1e8, live: 376, dead: 24, beerGravitySg: 1.01, beerAbvPercent: 4 };
  expect((await pitch([thin])).body.beerInYeast.matters).toBe(true);
});

// By hand: (8 × 1.2 + 6 × 0.9) / 14 = 1.0714e9; (9.6 × 0.94 + 5.4 × 0.95) / 15 = 0.9436.
test('POST blend weighs each lot by its cells', async () => {
  const { body } = await answer('blend', {
    lots: [
      { ...lot, useL: 8 },
      { cellsPerMl: 0.9e9, relativeError: 0.2, live: 190, dead: 10, useL: 6 },
    ],
  });
  expect(body).toMatchObject({ amount: 14, unit: 'L', viabilityAtMost: false });
  expect(body.cellsPer.value / 1e9).toBeCloseTo(1.0714, 4);
  expect(body.viabilityPercent.value).toBeCloseTo(94.36, 9);
});

// Garwood 1936: 46 colonies have limits 33.68 and 61.36 (R poisson.test). Clopper & Pearson:
// 1 of 29 has .0009 and .1776 (Newcombe 1998, Table I, method 5); rule of three for none.
test('POST plate gives exact limits, and an upper one when none grew', async () => {
  const grown = (await answer('plate', { colonies: 46, cellsPlated: 3e6 })).body;
  expect(grown.low * 3).toBeCloseTo(33.68, 2);
  expect(grown.high * 3).toBeCloseTo(61.36, 2);
  const petites = (await answer('plate', { colonies: 1, ofColonies: 29 })).body;
  expect(petites.low / 100).toBeCloseTo(0.0009, 4);
  expect(petites.high / 100).toBeCloseTo(0.1776, 4);
  const none = (await answer('plate', { colonies: 0, cellsPlated: 3e6 })).body;
  expect(none).toMatchObject({ value: 0, low: 0, onlyUpperLimit: true });
  expect(none.high).toBeCloseTo(1, 2);
});

test.each([
  [{ gravityPlato: 1.04, gravitySg: undefined }, 'wort.gravityPlato', 'looks like a specific'],
  [{ gravitySg: 13 }, 'wort.gravitySg', 'as °P it would be 105'],
  [{ gravitySg: 0.9 }, 'wort.gravitySg', 'enter it like 1.040'],
  [{ gravitySg: 1 }, 'wort.gravitySg', 'above 1.001'],
])('POST pitch with wort %j says at %s what was meant', async (change, path, words) => {
  const { status, body } = await pitch([lot], change);
  expect(status).toBe(422);
  const error = body.errors.find((each: { path: string }) => each.path === path);
  expect(error?.message).toContain(words);
});

test.each([
  [{ gravitySg: 1040 }],
  [{ gravitySg: undefined, gravityPlato: 1040 }],
  [{ gravitySg: undefined, gravityPlato: 9.993 }],
])('POST pitch understands the wort %j as 1.040', async (change) => {
  const { status, body } = await pitch([lot], change);
  expect(status).toBe(200);
  expect(body.gravityPlato).toBeCloseTo(9.993, 3);
});

const square = { squareAreaMm2: 0.04, depthMm: 0.1, dilutionFactor: 100 };
test.each([
  [{ count: { squares: [0, 0], ...square } }, 'count', 'No cell was found'],
  [{ cellsPerMl: 1e9, live: 0, dead: 20 }, 'live', 'No living cell'],
  [{ cellsPerMl: 1e9, viabilityPercent: 0 }, 'viabilityPercent', 'from 0.01'],
  [{ cellsPerMl: 1e9, hoursSince: 2000, tempC: 50 }, 'hoursSince', 'no living cell'],
  [{ cellsPerMl: 1e9, fallback: 'thin' }, 'fallback', 'one or the other'],
  [{ cellsPerG: 4e9, useL: 3 }, 'availableKg', 'in kilograms'],
])('POST pitch refuses the lot %j at %s', async (given, field, words) => {
  const { status, body } = await pitch([given]);
  expect(status).toBe(422);
  const error = body.errors.find((each: { path: string }) => each.path === `lots.0.${field}`);
  expect(error?.message).toContain(words);
});

test('POST count asks whether thick slurry was really not diluted', async () => {
  const { body } = await answer('count', {
    ...{ squares: [200, 210, 190], squareAreaMm2: 0.04, depthMm: 0.1 },
    dilutionFactor: 1,
  });
  expect(body.warnings.join(' ')).toContain('undiluted');
});

const anyNumber = fc.oneof(
  fc.double(),
  fc.constantFrom(0, -1, 1e-12, 1e-6, 0.5, 1, 1.04, 13, 90, 100, 1040, 1e9, 1e12, 1e18, 5e-324),
);
const anyWhole = fc.oneof(fc.integer({ min: -2, max: 10_000 }), fc.constantFrom(0, 1, 100_000));
const anyCount = fc.record(
  {
    squares: fc.array(anyWhole, { maxLength: 6 }),
    squareAreaMm2: anyNumber,
    depthMm: anyNumber,
    dilutionFactor: anyNumber,
    chamberCv: anyNumber,
    pipettingCv: anyNumber,
    pipettingSteps: anyWhole,
    targetRelativeHalfWidth: anyNumber,
  },
  { requiredKeys: ['squares', 'squareAreaMm2', 'depthMm', 'dilutionFactor'] },
);
const anyLot = fc.record(
  {
    ...{ cellsPerMl: anyNumber, cellsPerG: anyNumber, relativeError: anyNumber, count: anyCount },
    ...{ viabilityPercent: anyNumber, live: anyWhole, dead: anyWhole, spunPercent: anyNumber },
    ...{ hoursSince: anyNumber, tempC: anyNumber, useL: anyNumber, availableL: anyNumber },
  },
  { requiredKeys: [] },
);
const anyRequest = {
  count: anyCount,
  viability: fc.record({ live: anyWhole, dead: anyWhole, stain: fc.constant('other') }),
  storage: fc.record(
    {
      ...{ viabilityPercent: anyNumber, live: anyWhole, dead: anyWhole, limitPercent: anyNumber },
      history: fc.array(fc.record({ hours: anyNumber, tempC: anyNumber }), { maxLength: 3 }),
    },
    { requiredKeys: ['history'] },
  ),
  pitch: fc.record({
    wort: fc.record({ volumeL: anyNumber, gravitySg: anyNumber }),
    rateMillionPerMlPerPlato: anyNumber,
    lots: fc.array(anyLot, { minLength: 1, maxLength: 3 }),
  }),
  blend: fc.record({ lots: fc.array(anyLot, { minLength: 2, maxLength: 3 }) }),
  plate: fc.record(
    { colonies: anyWhole, cellsPlated: anyNumber, ofColonies: anyWhole },
    { requiredKeys: ['colonies'] },
  ),
  gravity: fc.record(
    { gravitySg: anyNumber, gravityPlato: anyNumber, excessDegrees: anyNumber },
    { requiredKeys: [] },
  ),
};

test.each(Object.entries(anyRequest))('POST %s never ends in a fault', async (path, requests) => {
  const { post } = await anApi();
  await fc.assert(
    fc.asyncProperty(requests, async (body) => {
      const response = await post(`/api/calculations/${path}`, body);
      expect([200, 400, 422]).toContain(response.status);
    }),
    { numRuns: 150 },
  );
});
