import { expect, test } from 'vitest';
import { housePace, type PastFerment } from '#shared/science/housePace.ts';
import { BETWEEN_BEERS_SD, HOUSE_PACE_PRIOR } from '#shared/science/housePacePrior.ts';
import { seededRandom } from '../../support/seededRandom.ts';

const target = Object.freeze({ originalGravitySg: 1.04 });
const past = (overrides: Partial<PastFerment> = {}): PastFerment => ({
  halfTimeHours: 26,
  ratePerHour: 0.12,
  originalGravitySg: 1.04,
  endGravitySg: 1.01,
  ...overrides,
});

test('housePace([], target) is the remembered span: 20 to 36 h at one standard deviation', () => {
  const { lnHalfTime, lnRate } = housePace([], target);
  expect(Math.exp(lnHalfTime.centre)).toBeCloseTo(Math.sqrt(20 * 36), 9);
  expect(lnHalfTime.scale).toBeGreaterThan(Math.log(36 / 20) / 2);
  expect(Math.exp(lnRate.centre)).toBeCloseTo(Math.sqrt(0.06 * 0.15), 9);
});

test('housePace(past, target) moves from the remembered to the own figure as ferments come in', () => {
  const centres = [0, 1, 3, 10, 100].map((count) =>
    Math.exp(
      housePace(
        Array.from({ length: count }, () => past()),
        target,
      ).lnHalfTime.centre,
    ),
  );
  for (const [i, centre] of centres.slice(1).entries()) {
    expect(centre).toBeLessThan(centres[i] ?? NaN);
    expect(centre).toBeGreaterThan(26);
  }
  expect(centres.at(-1)).toBeCloseTo(26, 2);
});

test('housePace(past, target) narrows with the ferments and never below their own scatter', () => {
  const random = seededRandom(4);
  const many = Array.from({ length: 400 }, () =>
    past({
      halfTimeHours: 26 * random.logNormal(0.08),
      ratePerHour: 0.12 * random.logNormal(0.15),
    }),
  );
  const { lnHalfTime, lnRate } = housePace(many, target);
  // Three standard errors of a standard deviation from 400: 3 s / sqrt(800).
  expect(Math.abs(lnHalfTime.scale - 0.08)).toBeLessThan((3 * 0.08) / Math.sqrt(800));
  expect(Math.abs(lnRate.scale - 0.15)).toBeLessThan((3 * 0.15) / Math.sqrt(800));
  expect(housePace(many.slice(0, 3), target).lnHalfTime.scale).toBeGreaterThan(lnHalfTime.scale);
});

test('housePace(past, target) learns the slope on temperature from ferments that differ in it', () => {
  const random = seededRandom(5);
  const many = Array.from({ length: 60 }, () => {
    const setTempC = 15 + 4 * random.uniform();
    return past({ setTempC, halfTimeHours: 26 * Math.exp(-0.1 * (setTempC - 17)) });
  });
  const cold = Math.exp(housePace(many, { ...target, setTempC: 15.5 }).lnHalfTime.centre);
  const warm = Math.exp(housePace(many, { ...target, setTempC: 18.5 }).lnHalfTime.centre);
  // The prior, which knows no slope, still pulls by less than a hundredth after sixty ferments.
  expect(cold / warm).toBeLessThan(Math.exp(0.3));
  expect(cold / warm).toBeGreaterThan(0.99 * Math.exp(0.3));
});

test('housePace(past, target) finds the correlation between half time and rate, and none in none', () => {
  const random = seededRandom(6);
  const many = Array.from({ length: 3000 }, () => {
    const z = random.normal();
    const rate = 0.12 * Math.exp(0.15 * (-0.6 * z + 0.8 * random.normal()));
    return past({ halfTimeHours: 26 * Math.exp(0.08 * z), ratePerHour: rate });
  });
  // Three standard errors of a correlation: 3 (1 - 0.36) / sqrt(3000).
  expect(Math.abs(housePace(many, target).correlation + 0.6)).toBeLessThan(0.035);
  expect(housePace([], target).correlation).toBe(0);
});

test('housePace(past, target) counts what is not known as the house mean', () => {
  const known = [past({ setTempC: 16 }), past({ setTempC: 18 })];
  const atMean = housePace(known, { ...target, setTempC: 17 });
  expect(housePace(known, target).lnHalfTime.centre).toBeCloseTo(atMean.lnHalfTime.centre, 12);
});

test('housePace(past, target) draws nothing from a figure that no past ferment tells', () => {
  const known = [past(), past(), past()];
  const told = { ...target, setTempC: 17, pitchRateMillionPerMlPerPlato: 0.6 };
  expect(housePace(known, told).lnHalfTime).toEqual(housePace(known, target).lnHalfTime);
});

test('housePace(past, target) pools beers in part: the share a beer keeps is that of its ferments', () => {
  const beersOf = (count: number) => [
    ...Array.from({ length: 400 }, () => past({ beer: 'mild' })),
    ...Array.from({ length: count }, () => past({ beer: 'stout', halfTimeHours: 26 * 1.2 })),
  ];
  const stoutOver = (count: number) => {
    const known = beersOf(count);
    const centreOf = (beer: string) =>
      housePace(known, { ...target, beer }).lnHalfTime.centre - Math.log(26);
    return centreOf('stout') / Math.log(1.2);
  };
  const shares = [0, 1, 4, 40].map(stoutOver);
  for (const [i, share] of shares.slice(1).entries()) expect(share).toBeGreaterThan(shares[i] ?? 1);
  // B = n tau^2 / (n tau^2 + sigma^2), sigma the believed scatter [EfronMorris1977]; the common mean
  // goes a little way with the beer, so it is a lower bound.
  const { residualSd } = HOUSE_PACE_PRIOR.lnHalfTime;
  const kept = (n: number) => 1 / (1 + residualSd ** 2 / (n * BETWEEN_BEERS_SD.lnHalfTime ** 2));
  expect(shares[1]).toBeGreaterThan(kept(1) - 0.01);
  expect(shares[1]).toBeLessThan(0.6);
  expect(shares[3]).toBeGreaterThan(0.9);
});

test('housePace(past, target) is less sure of a beer it never saw than of one it knows', () => {
  const known = Array.from({ length: 30 }, () => past({ beer: 'mild' }));
  const scaleOf = (beer: string) => housePace(known, { ...target, beer }).lnHalfTime.scale;
  expect(scaleOf('stout')).toBeGreaterThan(scaleOf('mild'));
});

test('housePace(past, target) refuses a ferment that did not fall', () => {
  expect(() => housePace([past({ halfTimeHours: 0 })], target)).toThrow(/halfTimeHours/);
  expect(() => housePace([past({ ratePerHour: NaN })], target)).toThrow(/ratePerHour/);
  expect(() => housePace([past({ endGravitySg: 1.05 })], target)).toThrow(/attenuation/);
  expect(HOUSE_PACE_PRIOR.lnHalfTime.coefficients).toHaveLength(4);
});
