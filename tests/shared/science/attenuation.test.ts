import { expect, test } from 'vitest';
import {
  apparentAttenuation,
  apparentAttenuationPlato,
  realAttenuation,
  realExtract,
} from '#shared/science/attenuation.ts';

// 1040 fallen to 1010, worked by hand with ICUMSA °P, which differs by up to 0.005 °P from the cubic:
// 75.0 % in degrees, 74.33 % in °P, 60.9 % real, RE 3.91 °P.
test('1040 fallen to 1010 is attenuated as worked by hand', () => {
  expect(apparentAttenuation(1.04, 1.01)).toBeCloseTo(0.75, 12);
  expect(Math.abs(100 * apparentAttenuationPlato(1.04, 1.01) - 74.33)).toBeLessThan(0.06);
  expect((100 * realAttenuation(1.04, 1.01)).toFixed(1)).toBe('60.9');
  expect(Math.abs(realExtract(1.04, 1.01) - 3.91)).toBeLessThan(0.006);
});

// MEBAK B-590.80.530: real is 0.81 of apparent.
test('real attenuation is about 0.81 of the apparent', () => {
  for (const og of [1.036, 1.045, 1.06]) {
    const ratio = realAttenuation(og, 1.01) / apparentAttenuationPlato(og, 1.01);
    expect(ratio).toBeGreaterThan(0.8);
    expect(ratio).toBeLessThan(0.825);
  }
});

test('attenuation is 0 at the start and 1 at the gravity of water', () => {
  expect(apparentAttenuation(1.05, 1.05)).toBe(0);
  expect(apparentAttenuation(1.05, 1)).toBe(1);
  expect(apparentAttenuation(1.05, 1.051)).toBeLessThan(0);
});

test('attenuation refuses an original gravity of water', () => {
  expect(() => apparentAttenuation(1, 1)).toThrow('originalSg must be above 1, got 1');
  expect(() => realAttenuation(1, 1)).toThrow(RangeError);
  expect(() => apparentAttenuation(NaN, 1)).toThrow(RangeError);
});
