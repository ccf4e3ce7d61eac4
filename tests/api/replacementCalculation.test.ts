import { expect, test } from 'vitest';
import { anApi } from '#tests/support/server.ts';

async function answer(body: unknown) {
  const { post } = await anApi();
  const response = await post('/api/calculations/replacement', body);
  return { status: response.status, body: await response.json() };
}

const never = (brews: number) => Array.from({ length: brews }, () => 0);

// Without losses the best length is near sqrt(2F/a): 10.0, 17.3 and 5.8 by hand.
test.each([
  [180, 3.6, 10],
  [180, 1.2, 17],
  [60, 3.6, 6],
])(
  'POST replacement: culture %s, %s more each generation, is renewed after %s',
  async (freshCulture, extraPerGeneration, brews) => {
    const { status, body } = await answer({
      costs: { freshCulture, extraPerGeneration },
      failureChance: never(30),
    });
    expect(status).toBe(200);
    expect(body.best.brews).toBe(brews);
    // F/N + a(N - 1)/2
    const cost = freshCulture / brews + (extraPerGeneration * (brews - 1)) / 2;
    expect(body.best.costPerBrew).toBeCloseTo(cost, 9);
    expect(body.policies).toHaveLength(30);
    expect(body.isAtEnd).toBe(false);
    expect(body.warnings).toEqual([]);
  },
);

test('POST replacement: the mean chance of a loss is added when the culture carries on', async () => {
  const { body } = await answer({
    costs: { freshCulture: 100, handlingPerBrew: 20, lostBrew: 1000 },
    failureChance: [0.01, 0.03, 0.2],
  });
  expect(body.policies.map(({ costPerBrew }: { costPerBrew: number }) => costPerBrew)).toEqual([
    expect.closeTo(100 + 20 + 10, 9),
    expect.closeTo(50 + 20 + 20, 9),
    expect.closeTo(100 / 3 + 20 + 80, 9),
  ]);
  expect(body.best.brews).toBe(2);
});

test('POST replacement: what does not rise is kept for ever, and it says so', async () => {
  const { body } = await answer({ costs: { freshCulture: 100 }, failureChance: never(5) });
  expect(body).toMatchObject({ best: { brews: 5 }, isAtEnd: true });
  expect(body.warnings[0]).toContain('longer');
});

test('POST replacement: each input is varied, and keeping to the best costs no less', async () => {
  const { body } = await answer({
    costs: { freshCulture: 180, handlingPerBrew: 25, extraPerGeneration: 3.6, lostBrew: 1900 },
    failureChance: Array.from({ length: 25 }, (_, k) => 0.001 * (k + 1)),
    afterLoss: 'renew',
  });
  expect(body.sensitivity).toHaveLength(10);
  for (const { costOfKeeping } of body.sensitivity) expect(costOfKeeping).toBeGreaterThan(-1e-9);
});

test.each([
  [{ costs: { freshCulture: -1 }, failureChance: [0] }, 'costs.freshCulture'],
  [{ costs: {}, failureChance: [0] }, 'costs.freshCulture'],
  [{ costs: { freshCulture: 1 }, failureChance: [] }, 'failureChance'],
  [{ costs: { freshCulture: 1 }, failureChance: [0.1, 1.5] }, 'failureChance.1'],
  [{ costs: { freshCulture: 1 }, failureChance: ['x'] }, 'failureChance.0'],
  [{ costs: { freshCulture: 1 }, failureChance: [0], afterLoss: 'perhaps' }, 'afterLoss'],
])('POST replacement %j is refused at %s', async (request, path) => {
  const { status, body } = await answer(request);
  expect(status).toBe(422);
  expect(body.errors[0].path).toBe(path);
});
