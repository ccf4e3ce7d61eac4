import { expect, test } from 'vitest';
import { anApi } from '#tests/support/server.ts';
import sulfate from '../reference/sulfateTrend.json' with { type: 'json' };

const chartOf = async (body: unknown) =>
  (await anApi()).post('/api/calculations/control-chart', body);
const trendOf = async (body: unknown) => (await anApi()).post('/api/calculations/trend', body);

// NIST/SEMATECH e-Handbook of Statistical Methods, 6.3.2.2 (flow rate) and 6.3.2.4 (EWMA).
const flowRate = [49.6, 47.6, 49.9, 51.3, 47.8, 51.2, 52.6, 52.4, 53.6, 52.1];
const averaged = [52, 47, 53, 49.3, 50.1, 47, 51, 50.1, 51.2, 50.5, ...flowRate];

test('POST /api/calculations/control-chart gives the published limits of the flow rate', async () => {
  const response = await chartOf({ values: flowRate });
  expect(response.status).toBe(200);
  const { individuals, out } = await response.json();
  expect(individuals.centre).toBeCloseTo(50.81, 10);
  expect(individuals.upper).toBeCloseTo(55.8041, 4);
  expect(individuals.lower).toBeCloseTo(45.8159, 4);
  expect(individuals.movingRangeUpper).toBeCloseTo(6.1347, 4);
  expect(out).toEqual([]);
});

test('POST /api/calculations/control-chart gives the published EWMA and its limits', async () => {
  const response = await chartOf({ values: averaged, lambda: 0.3, centre: 50, sigma: 2.0539 });
  expect(response.status).toBe(200);
  const { ewma } = await response.json();
  expect(ewma.upper).toBeCloseTo(52.5884, 4);
  expect(Math.abs(ewma.lower - 47.4115)).toBeLessThan(1e-4);
  expect(ewma.points).toHaveLength(20);
  expect(ewma.points[0].ewma).toBeCloseTo(50.6, 10);
  expect(ewma.points[19].ewma).toBeCloseTo(51.99, 2);
  expect(ewma.points.filter(({ isOut }: { isOut: boolean }) => isOut)).toEqual([]);
});

test('POST /api/calculations/control-chart puts no limit where the values cannot go', async () => {
  // Petites [%]: mean 1, every range 1, so sigma 1 / 1.128 and limits of 1 -+ 2.66.
  const petites = [0.5, 1.5, 0.5, 1.5];
  const free = await (await chartOf({ values: petites })).json();
  expect(free.individuals.lower).toBeCloseTo(-1.6596, 4);
  const { individuals, ewma } = await (
    await chartOf({ values: petites, floor: 0, ceiling: 100 })
  ).json();
  expect(individuals).toMatchObject({ lower: 0, isAtFloor: true, isAtCeiling: false });
  expect(individuals.upper).toBeCloseTo(3.6596, 4);
  expect(ewma).toMatchObject({ isAtFloor: false });
});

test.each([
  ['a number', 10],
  ['a list', [0, 1, 2, 3, 4, 5, 6, 7, 8, 9]],
])(
  'a baseline given as %s sets the limits, and what is out names its rule',
  async (_, baseline) => {
    const response = await chartOf({ values: [...flowRate, 58], baseline });
    expect(response.status).toBe(200);
    const { individuals, out } = await response.json();
    expect(individuals.upper).toBeCloseTo(55.8041, 4);
    expect(out.map(({ index }: { index: number }) => index)).toEqual([10]);
    expect(out[0].rules).toContainEqual({
      rule: 'one beyond 3 sigma',
      source: 'Western Electric 1956',
    });
    expect(out[0].rules).toContainEqual({ rule: 'one beyond 3 sigma', source: 'Nelson 1984' });
  },
);

test.each([
  ['no list', { values: 7 }, 'values', /list of numbers/],
  ['one value', { values: [7] }, 'values', /at least 2/],
  ['a value beyond all measure', { values: [1, 1e300, 3] }, 'values.1', /at most/],
  ['a word among them', { values: [1, 'two', 3] }, 'values.1', /must be a number/],
  ['values all alike', { values: [3, 3, 3] }, 'values', /all alike/],
  ['a baseline of one', { values: flowRate, baseline: 1 }, 'baseline', /whole number from 2/],
  ['a baseline longer than the list', { values: flowRate, baseline: 11 }, 'baseline', /only 10/],
  [
    'a place beyond the list',
    { values: flowRate, baseline: [0, 10] },
    'baseline.1',
    /count from 0/,
  ],
  ['one place twice', { values: flowRate, baseline: [2, 2] }, 'baseline', /different places/],
  ['a weight of 0', { values: flowRate, lambda: 0 }, 'lambda', /above 0 and at most 1/],
  ['a floor above a value', { values: [1, 2, -1], floor: 0 }, 'values.2', /below the floor of 0/],
  ['a ceiling under its floor', { values: [1, 2], floor: 3, ceiling: 2 }, 'ceiling', /above floor/],
  ['a centre alone', { values: flowRate, centre: 50 }, 'sigma', /together/],
  ['a field it does not know', { values: flowRate, limit: 3 }, 'limit', /not asked for/],
])('POST /api/calculations/control-chart refuses %s by field', async (_, body, path, message) => {
  const response = await chartOf(body);
  expect(response.status).toBe(422);
  const { errors } = await response.json();
  expect(errors).toContainEqual({ path, message: expect.stringMatching(message) });
});

test('POST /api/calculations/trend agrees with the USEPA sulfate example, in any order', async () => {
  const response = await trendOf({
    times: sulfate.t.toReversed(),
    values: sulfate.y.toReversed(),
  });
  expect(response.status).toBe(200);
  const found = await response.json();
  expect(found).toMatchObject({ values: 23, s: 194, variance: 1428, method: 'normal' });
  expect(found.pValue).toBeCloseTo(3.26757e-7, 11);
  expect(found.slope).toBeCloseTo(26.6667, 4);
  expect(found.slopeLow).toBeCloseTo(20, 6);
  expect(found.slopeHigh).toBeCloseTo(35.7118, 4);
});

test.each([
  ['two points', { times: [1, 2], values: [1, 2] }, 'times', /at least 3/],
  [
    'fewer values than times',
    { times: [1, 2, 3, 4], values: [1, 2, 3] },
    'values',
    /4 times and 3/,
  ],
  ['a time given twice', { times: [1, 2, 2], values: [1, 2, 3] }, 'times.2', /given twice/],
  ['a value that is no number', { times: [1, 2, 3], values: [1, null, 3] }, 'values.1', /a number/],
  ['no values', { times: [1, 2, 3] }, 'values', /list of numbers/],
  [
    'a confidence of 1',
    { times: [1, 2, 3], values: [1, 2, 3], confidence: 1 },
    'confidence',
    /0.999/,
  ],
])('POST /api/calculations/trend refuses %s by field', async (_, body, path, message) => {
  const response = await trendOf(body);
  expect(response.status).toBe(422);
  const { errors } = await response.json();
  expect(errors).toContainEqual({ path, message: expect.stringMatching(message) });
});
