import { expect, test } from 'vitest';
import { partialPool, shrunkEstimates } from '#shared/science/pooling.ts';

// Rubin (1981), effects of coaching in eight schools.
const effects = Object.freeze([28, 8, -3, 7, -1, 1, 18, 12]);
const errors = Object.freeze([15, 10, 16, 11, 9, 11, 10, 18]);

test('partialPool(eight schools) finds no spread between them beyond their errors', () => {
  const { mean, meanStandardError, betweenSd, estimates } = partialPool(effects, errors);
  // R metafor 3.8-1: tau2 0, pooled 7.6856, SE 4.0719.
  expect(betweenSd).toBe(0);
  expect(mean).toBeCloseTo(7.6856, 4);
  expect(meanStandardError).toBeCloseTo(4.0719, 4);
  for (const { value } of estimates) expect(value).toBeCloseTo(7.6856, 4);
});

test('partialPool(eight schools, tau) agrees with metafor at tau 5 and 10', () => {
  const five = partialPool(effects, errors, 5);
  expect(five.mean).toBeCloseTo(7.85098323390138, 12);
  expect(five.meanStandardError).toBeCloseTo(4.49209642570888, 12);
  const atFive = [
    9.86588491051124, 7.88078658712111, 6.88559326647243, 7.70526692672649, 5.76348718816992,
    6.67786966645251, 9.8807865871211, 8.14819073863624,
  ];
  for (const [i, theta] of atFive.entries()) {
    expect(five.estimates[i]?.value).toBeCloseTo(theta, 12);
  }
  const ten = partialPool(effects, errors, 10);
  expect(ten.mean).toBeCloseTo(8.12647218557157, 12);
  expect(ten.estimates[0]?.value).toBeCloseTo(14.2414038207803, 12);
  expect(ten.estimates[4]?.value).toBeCloseTo(3.08422235928893, 12);
});

// Efron and Morris (1977): hits of 45 at bat of eighteen players, and the averages of their season.
const hits = [18, 17, 16, 15, 14, 14, 13, 12, 11, 11, 10, 10, 10, 10, 10, 9, 8, 7];
const season = [
  0.346, 0.298, 0.276, 0.222, 0.273, 0.27, 0.263, 0.21, 0.269, 0.23, 0.264, 0.256, 0.303, 0.264,
  0.226, 0.285, 0.316, 0.2,
];

test('shrunkEstimates(averages) shrinks the baseball averages by the published factor .212', () => {
  const averages = hits.map((count) => count / 45);
  const mean = averages.reduce((sum, value) => sum + value, 0) / 18;
  const { factor, estimates } = shrunkEstimates(averages, (mean * (1 - mean)) / 45);
  expect(factor).toBeCloseTo(0.212, 3);
  expect(estimates[0]).toBeCloseTo(0.293914, 6);
  expect(estimates[17]).toBeCloseTo(0.242176, 6);
  const missOf = (values: readonly number[]) =>
    values.reduce((sum, value, i) => sum + (value - (season[i] ?? NaN)) ** 2, 0);
  // The paper: three and a half times nearer to the season.
  expect(missOf(averages) / missOf(estimates)).toBeCloseTo(3.5, 1);
});

test('shrunkEstimates(values) shrinks all the way when the spread is no more than error', () => {
  expect(shrunkEstimates([1, 2, 3, 4], 100)).toMatchObject({
    factor: 0,
    estimates: [2.5, 2.5, 2.5, 2.5],
  });
});

test('partialPool and shrunkEstimates refuse what they cannot use', () => {
  expect(() => partialPool([1, 2], [1])).toThrow(RangeError);
  expect(() => partialPool([1], [0])).toThrow(RangeError);
  expect(() => partialPool([1], [1], -1)).toThrow(RangeError);
  expect(() => shrunkEstimates([1, 2, 3], 1)).toThrow(/at least four/);
  expect(() => shrunkEstimates([1, 2, 3, 4], 0)).toThrow(/variance/);
});
