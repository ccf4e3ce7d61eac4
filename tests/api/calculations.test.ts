import { expect, test } from 'vitest';
import { anApi } from '#tests/support/server.ts';

async function answer(path: string, body: unknown) {
  const { post } = await anApi();
  const response = await post(`/api/calculations/${path}`, body);
  return { status: response.status, body: await response.json() };
}

const squares = [38, 41, 35, 37, 36];
const chamber = { squareAreaMm2: 0.04, depthMm: 0.1 };

// Arithmetic of the improved Neubauer ruling: N × 5 × DF × 1e4.
test('POST count: 187 cells in five medium squares at 1 in 100', async () => {
  const { status, body } = await answer('count', { squares, ...chamber, dilutionFactor: 100 });
  expect(status).toBe(200);
  expect(body.cellsPerMl / 9.35e8).toBeCloseTo(1, 12);
  // Exact Poisson limits of 187 (Garwood): 161.16 to 215.80, from R's qchisq.
  expect(body.countingOnly.low / (9.35e8 / 187)).toBeCloseTo(161.16, 1);
  expect(body.low).toBeLessThan(body.countingOnly.low);
  expect(body.high).toBeGreaterThan(body.countingOnly.high);
  expect(body.dispersion).toMatchObject({ degreesOfFreedom: 4, clumped: false });
});

// Ten squares of a Master Brewers discussion: chi-square 24.62 on 9 df, p 0.0034.
test('POST count: ten squares that differ too much are called clumped', async () => {
  const { body } = await answer('count', {
    squares: [35, 41, 37, 47, 43, 45, 70, 46, 40, 29],
    squareAreaMm2: 0.0625,
    depthMm: 0.1,
    dilutionFactor: 1,
  });
  expect(body.cellsPerMl / 6.93e6).toBeCloseTo(1, 3);
  expect(body.dispersion.statistic).toBeCloseTo(24.62, 2);
  expect(body.dispersion.pValue).toBeCloseTo(0.0034, 4);
  expect(body.dispersion.clumped).toBe(true);
  expect(body.warnings.join(' ')).toContain('clumped');
});

// Wilson score limits, z = 1.959964 (Newcombe 1998, method 3): 380/400 gives 92.40 to 96.74.
test('POST viability: 380 of 400', async () => {
  const { body } = await answer('viability', { live: 380, dead: 20, stain: 'methylene blue' });
  expect(body.percent).toBe(95);
  expect(body.low).toBeCloseTo(92.4, 2);
  expect(body.high).toBeCloseTo(96.74, 2);
  expect(body.validity).toBe('valid');
});

// 10 UK barrels at 1040 (9.992 °P), 0.75 million/mL/°P: 1.2265e13 cells; 10.87 L of 1.2e9/mL, 94 %.
test('POST pitch: ten barrels at 1040', async () => {
  const { body } = await answer('pitch', {
    wort: { volumeL: 1636.5924, gravityPlato: 9.992 },
    rateMillionPerMlPerPlato: 0.75,
    lots: [{ cellsPerMl: 1.2e9, relativeError: 0.2, live: 376, dead: 24, availableL: 40 }],
  });
  expect(body.viableCellsNeeded / 1.2265e13).toBeCloseTo(1, 4);
  expect(body.lots[0].amount).toBeCloseTo(10.87, 2);
  expect(body.lots[0].unit).toBe('L');
  expect(body.shortage).toBeNull();
  expect(body.why.length).toBeGreaterThan(3);
});

// Pressed yeast at 4.5e9 cells/g and 94 %: 2.90 kg for the same wort.
test('POST pitch: pressed yeast by weight, and a shortage', async () => {
  const wort = { volumeL: 1636.5924, gravityPlato: 9.992 };
  const lot = { cellsPerG: 4.5e9, relativeError: 0.4, viabilityPercent: 94 };
  const enough = await answer('pitch', { wort, rateMillionPerMlPerPlato: 0.75, lots: [lot] });
  expect(enough.body.lots[0]).toMatchObject({ unit: 'kg', leftAfter: null });
  expect(enough.body.lots[0].amount).toBeCloseTo(2.9, 2);
  const short = await answer('pitch', {
    wort,
    rateMillionPerMlPerPlato: 0.75,
    lots: [{ ...lot, availableKg: 1.45 }],
  });
  expect(short.body.lots[0].amount).toBe(1.45);
  expect(short.body.shortage.fraction).toBeCloseTo(0.5, 3);
});

// ASBC cubic: 1.040 is 9.993 °P.
test.each([[{ gravitySg: 1.04 }], [{ gravitySg: 1040 }], [{ excessDegrees: 40 }]])(
  'POST gravity: %j is 9.993 °P',
  async (request) => {
    const { body } = await answer('gravity', request);
    expect(body.gravitySg).toBeCloseTo(1.04, 12);
    expect(body.gravityPlato).toBeCloseTo(9.993, 3);
    expect(body.excessDegrees).toBeCloseTo(40, 9);
  },
);

test.each([
  ['count', { squares: [], ...chamber, dilutionFactor: 1 }, 'squares', 'Count one square at least'],
  ['count', { squares: [-1], ...chamber, dilutionFactor: 1 }, 'squares.0', 'whole number from 0'],
  ['count', { squares, ...chamber }, 'dilutionFactor', 'The dilution is missing'],
  ['viability', { live: 0, dead: 0, stain: 'methylene blue' }, 'live', 'Count one cell at least'],
  ['viability', { live: 1, dead: 0, stain: 'ink' }, 'stain', 'must be one of'],
  ['gravity', { gravitySg: 13 }, 'gravitySg', '°P'],
  ['gravity', { gravitySg: 0.9 }, 'gravitySg', 'specific gravity'],
  ['gravity', {}, 'gravitySg', 'Give one of'],
])('POST %s with %j names %s and says what was expected', async (path, request, field, words) => {
  const { status, body } = await answer(path, request);
  expect(status).toBe(422);
  const error = body.errors.find((candidate: { path: string }) => candidate.path === field);
  expect(error?.message).toContain(words);
});

test.each([
  [{ volumeL: 0, gravitySg: 1.04 }, 'wort.volumeL'],
  [{ volumeL: 1000, gravitySg: 13 }, 'wort.gravitySg'],
  [{ volumeL: 1000 }, 'wort.gravitySg'],
])('POST pitch with wort %j names %s', async (wort, path) => {
  const { status, body } = await answer('pitch', {
    wort,
    rateMillionPerMlPerPlato: 0.75,
    lots: [{ cellsPerMl: 1e9, viabilityPercent: 95 }],
  });
  expect(status).toBe(422);
  expect(body.errors.map((error: { path: string }) => error.path)).toContain(path);
});

test('POST pitch with a dead lot is refused at the viability', async () => {
  const { status, body } = await answer('pitch', {
    wort: { volumeL: 1000, gravitySg: 1.04 },
    rateMillionPerMlPerPlato: 0.75,
    lots: [{ cellsPerMl: 1e9, viabilityPercent: 0 }],
  });
  expect(status).toBe(422);
  expect(body.errors[0].path).toBe('lots.0.viabilityPercent');
});

test('POST count tells how many more cells even when the squares are badly clumped', async () => {
  const { status, body } = await answer('count', {
    fillings: [
      { squares: [26, 302], dilutionFactor: 100 },
      { squares: [38], dilutionFactor: 100 },
    ],
    ...chamber,
    chamberCv: 0.01,
    pipettingCv: 0.01,
    pipettingSteps: 0,
    targetRelativeHalfWidth: 0.9,
  });
  expect(status).toBe(200);
  expect(body.dispersion.clumped).toBe(true);
  expect(body.warnings.join(' ')).toContain('clumped');
});
