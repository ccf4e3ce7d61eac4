import { expect, test } from 'vitest';
import {
  refuse,
  requireConfidence,
  requireCount,
  requireFraction,
  requireNotNegative,
  requirePositive,
  requireShare,
} from '#shared/science/refusal.ts';

test('refuse(…) names function, rule and what it got', () => {
  expect(() => refuse('doublingTime', 'rate must be > 0', -2)).toThrow(
    new RangeError('doublingTime: rate must be > 0, got -2'),
  );
});

test.each([
  [requirePositive, [1e-300, 5], [0, -1, Number.NaN, Infinity]],
  [requireNotNegative, [0, 5], [-1e-300, Number.NaN, Infinity]],
  [requireFraction, [0, 0.5, 1], [-0.1, 1.1, Number.NaN]],
  [requireShare, [0.5, 1], [0, 1.1, Number.NaN]],
  [requireCount, [0, 7], [-1, 1.5, Number.NaN, Infinity, 2 ** 60]],
])('%o lets its domain through and nothing else', (require, allowed, refused) => {
  for (const value of allowed) expect(() => require('f', 'x', value)).not.toThrow();
  for (const value of refused) expect(() => require('f', 'x', value)).toThrow(RangeError);
});

test('a confidence lies between 0 and 1', () => {
  expect(() => requireConfidence('f', 0.95)).not.toThrow();
  for (const value of [0, 1, Number.NaN]) {
    expect(() => requireConfidence('f', value)).toThrow('f: confidence must be between 0 and 1');
  }
});
