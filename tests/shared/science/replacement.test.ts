import { expect, test } from 'vitest';
import {
  bestReplacement,
  type ReplacementCase,
  replacementInputs,
  replacementPolicies,
} from '#shared/science/replacement.ts';
import { relativeError } from '../../support/relativeError.ts';

const free = { freshCulture: 0, handlingPerBrew: 0, extraPerGeneration: 0, loss: 0 };

/** Chance of failing in each period, of those that reached it. */
function hazards(pmf: readonly number[]): number[] {
  let left = 1;
  return pmf.map((share) => {
    const hazard = Math.min(1, share / left);
    left -= share;
    return hazard;
  });
}

test('replacementPolicies(case) gives the exact fractions of six discrete periods', () => {
  // Lives 1 to 6 with .05 .10 .15 .25 .30 .15, planned 2, failure 10: exact rationals, worked apart.
  const policies = replacementPolicies({
    costs: { ...free, freshCulture: 2, loss: 8 },
    failureChance: hazards([0.05, 0.1, 0.15, 0.25, 0.3, 0.15]),
    afterLoss: 'renew',
  });
  const exact = [12 / 5, 64 / 39, 11 / 7, 64 / 35, 176 / 79, 100 / 41];
  const lengths = [1, 39 / 20, 14 / 5, 7 / 2, 79 / 20, 41 / 10];
  expect(policies).toHaveLength(6);
  for (const [i, { costPerBrew, expectedBrews }] of policies.entries()) {
    expect(relativeError(costPerBrew, exact[i] ?? NaN)).toBeLessThan(1e-14);
    expect(relativeError(expectedBrews, lengths[i] ?? NaN)).toBeLessThan(1e-14);
  }
});

test('bestReplacement(case) in fine steps finds the published optimum of a Weibull life', () => {
  // Weibull shape 2.5, scale 1000 h, planned 1, failure 5: best at 493.0470 h, .00346204 an hour.
  const step = 0.1;
  const survival = (hours: number) => Math.exp(-((hours / 1000) ** 2.5));
  const failureChance = Array.from(
    { length: 10_000 },
    (_, k) => 1 - survival((k + 1) * step) / survival(k * step),
  );
  const weibull: ReplacementCase = {
    costs: { ...free, freshCulture: 1, loss: 4 },
    failureChance,
    afterLoss: 'renew',
  };
  const policies = replacementPolicies(weibull);
  const costAt = (hours: number) =>
    (policies[Math.round(hours / step) - 1]?.costPerBrew ?? NaN) / step;
  // Counting whole steps lengthens a cycle by up to half a step: 1e-4 of it.
  for (const [hours, cost] of [
    [100, 0.0101354403276],
    [250, 0.00453236968547],
    [450, 0.00348120232688],
    [700, 0.00374089610336],
    [1000, 0.00451640550155],
  ] as const) {
    expect(relativeError(costAt(hours), cost)).toBeLessThan(1e-4);
  }
  const { best } = bestReplacement(weibull);
  expect(best.brews * step).toBeCloseTo(493.05, 0);
  expect(relativeError(best.costPerBrew / step, 0.00346204273878927)).toBeLessThan(1e-4);
});

test('bestReplacement(case) in fine steps finds the optimum of a uniform life', () => {
  // Life uniform on 0 to 10, new 10, breakdown 3 more: best (-1 + sqrt 1.6) / .03 = 8.8304, 2.564911.
  const step = 0.001;
  const failureChance = Array.from({ length: 10_000 }, (_, k) => 1 / (10_000 - k));
  const { best } = bestReplacement({
    costs: { ...free, freshCulture: 10, loss: 3 },
    failureChance,
    afterLoss: 'renew',
  });
  expect(Math.abs(best.brews * step - 8.83036880224506)).toBeLessThan(0.05);
  expect(relativeError(best.costPerBrew / step, 2.56491106406735)).toBeLessThan(2e-4);
});

test('bestReplacement(case) without losses is the square root of 2F / a', () => {
  const best = (freshCulture: number, extraPerGeneration: number) =>
    bestReplacement({
      costs: { ...free, freshCulture, extraPerGeneration, handlingPerBrew: 5 },
      failureChance: new Array<number>(60).fill(0),
      afterLoss: 'carry on',
    }).best.brews;
  // Worked: 180 and 3.60 give 10.0; 180 and 1.20 give 17.3; 60 and 3.60 give 5.8.
  expect(best(180, 3.6)).toBe(10);
  expect(best(180, 1.2)).toBe(17);
  expect(best(60, 3.6)).toBe(6);
});

test('replacementPolicies(case) carrying on is F/N + c + a(N - 1)/2 + L x mean chance', () => {
  const policies = replacementPolicies({
    costs: { freshCulture: 180, handlingPerBrew: 12, extraPerGeneration: 2, loss: 900 },
    failureChance: [0.01, 0.02, 0.03, 0.06],
    afterLoss: 'carry on',
  });
  expect(policies[3]?.costPerBrew).toBeCloseTo(180 / 4 + 12 + (2 * 3) / 2 + 900 * 0.03, 10);
});

const house: ReplacementCase = Object.freeze({
  costs: { freshCulture: 180, handlingPerBrew: 12, extraPerGeneration: 2, loss: 900 },
  failureChance: Array.from({ length: 30 }, (_, k) => 0.002 + 0.001 * k),
  afterLoss: 'renew',
});

test('bestReplacement(case) varies every input by half and prices keeping to the present best', () => {
  const { best, sensitivity, isAtEnd } = bestReplacement(house);
  expect(isAtEnd).toBe(false);
  expect(sensitivity).toHaveLength(2 * replacementInputs.length);
  for (const { costOfKeeping } of sensitivity) expect(costOfKeeping).toBeGreaterThanOrEqual(0);
  const dearer = sensitivity.find(({ input, factor }) => input === 'freshCulture' && factor > 1);
  expect(dearer?.best.brews).toBeGreaterThan(best.brews);
  const riskier = sensitivity.find(({ input, factor }) => input === 'failureChance' && factor > 1);
  expect(riskier?.best.brews).toBeLessThan(best.brews);
  const handling = sensitivity.find(({ input }) => input === 'handlingPerBrew');
  expect(handling?.best.brews).toBe(best.brews);
});

test('bestReplacement(case) says when nothing it looked at makes renewing worth while', () => {
  const { isAtEnd } = bestReplacement({
    costs: { ...free, freshCulture: 180 },
    failureChance: new Array<number>(12).fill(0),
    afterLoss: 'renew',
  });
  expect(isAtEnd).toBe(true);
});

test('replacementPolicies(case) refuses negative costs, no chances and chances above one', () => {
  const ask = (change: Partial<ReplacementCase>) => () =>
    replacementPolicies({ ...house, ...change });
  expect(ask({ costs: { ...free, loss: -1 } })).toThrow(/loss must be >= 0/);
  expect(ask({ failureChance: [] })).toThrow(/not be empty/);
  expect(ask({ failureChance: [0.1, 1.2] })).toThrow(/failureChance/);
  expect(ask({ failureChance: [NaN] })).toThrow(/failureChance/);
});
