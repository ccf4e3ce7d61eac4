import { expect, test } from 'vitest';
import { departure, lnGamma, stirlingError } from '#shared/science/stirling.ts';
import { relativeError } from '../../support/relativeError.ts';

// mpmath 1.3.0, 40 digits: loggamma(a) - ((a - 1/2) ln a - a + ln(2 pi)/2). Below 10 it is a difference
// of logarithms of up to 13, which costs their last digit.
test.each([
  [0.5, 0.1534264097200273],
  [3, 0.0276779256849983],
  [10, 0.0083305634333629],
  [1872, 4.451566909224e-5],
])('stirlingError(%f) is %f', (a, truth) => {
  expect(Math.abs(stirlingError(a) - truth)).toBeLessThan(5e-15);
});

test('lnGamma(a + 1) is lnGamma(a) + ln a across the change of method', () => {
  for (const a of [0.3, 4.2, 9.5, 9.999, 10.5, 400]) {
    expect(Math.abs(lnGamma(a + 1) - lnGamma(a) - Math.log(a))).toBeLessThan(1e-12);
  }
});

// mu - ln(1 + mu) with ln(1 + mu) from its series to six terms, mu = 1e-3.
test('departure(x, m) keeps its digits next to m', () => {
  const mu = 1e-3;
  const series = mu ** 2 / 2 - mu ** 3 / 3 + mu ** 4 / 4 - mu ** 5 / 5;
  expect(relativeError(departure(1000 + 1, 1000), series)).toBeLessThan(1e-11);
  expect(departure(7, 7)).toBe(0);
  expect(departure(14, 7)).toBeCloseTo(1 - Math.log(2), 14);
});

test('lnGamma(a) refuses what is not above 0', () => {
  for (const a of [0, -2, Number.NaN]) expect(() => lnGamma(a)).toThrow(RangeError);
  expect(() => stirlingError(0)).toThrow('a must be > 0, got 0');
});
