import { expect, test } from 'vitest';
import { degreesAt, plausibleFerments } from '#shared/science/plausibleFerments.ts';

const pace = Object.freeze({
  lnHalfTime: { centre: Math.log(28), scale: 0.1, degreesOfFreedom: 1e6 },
  lnRate: { centre: Math.log(0.1), scale: 0.2, degreesOfFreedom: 1e6 },
  logitAttenuation: { centre: Math.log(3), scale: 0.1, degreesOfFreedom: 1e6 },
  correlation: -0.5,
});
const ferments = plausibleFerments(pace, 40);
const mean = (values: number[]) => values.reduce((sum, value) => sum + value, 0) / values.length;

test('plausibleFerments(pace) have the means, spreads and correlation they were asked for', () => {
  const h = ferments.map((ferment) => (Math.log(ferment.halfTimeHours) - Math.log(28)) / 0.1);
  const b = ferments.map((ferment) => (Math.log(ferment.ratePerHour) - Math.log(0.1)) / 0.2);
  const attenuations = ferments.map(({ endDegrees }) => 1 - endDegrees / 40);
  const logits = attenuations.map((share) => (Math.log(share / (1 - share)) - Math.log(3)) / 0.1);
  expect(ferments).toHaveLength(1021);
  for (const z of [h, b, logits]) {
    expect(mean(z)).toBeCloseTo(0, 12);
    // The spread of the second number drawn is 1.3 % short with so few points.
    expect(Math.abs(mean(z.map((value) => value * value)) - 1)).toBeLessThan(0.027);
  }
  // And so is what the two share.
  expect(Math.abs(mean(h.map((value, i) => value * (b[i] ?? NaN))) + 0.5)).toBeLessThan(0.027);
  expect(Math.abs(mean(h.map((value, i) => value * (logits[i] ?? NaN))))).toBeLessThan(0.027);
});

test('plausibleFerments(pace) fill every cell of a coarse grid alike', () => {
  const counts = new Map<string, number>();
  const place = (value: number, centre: number) => (value < centre ? 0 : 1);
  const none = plausibleFerments({ ...pace, correlation: 0 }, 40);
  for (const { halfTimeHours, ratePerHour, endDegrees, spare } of none) {
    const cell = [
      place(halfTimeHours, 28),
      place(ratePerHour, 0.1),
      place(endDegrees, 10),
      place(spare, 0.5),
    ].join();
    counts.set(cell, (counts.get(cell) ?? 0) + 1);
  }
  // 1021 over 16 cells is 64 each; random draws would stray by 8 at one standard deviation.
  expect(counts.size).toBe(16);
  for (const count of counts.values()) expect(Math.abs(count - 64)).toBeLessThan(16);
});

test('plausibleFerments(pace) are the same each time', () => {
  expect(plausibleFerments(pace, 40)).toEqual(ferments);
});

test('degreesAt(ferment, hours) is the original gravity at the pitch and half way at the half time', () => {
  const ferment = { halfTimeHours: 28, ratePerHour: 0.1, originalDegrees: 40, endDegrees: 10 };
  expect(degreesAt(ferment, 0)).toBe(40);
  expect(degreesAt(ferment, 28)).toBeCloseTo(25, 9);
  expect(degreesAt(ferment, 1000)).toBeCloseTo(10, 9);
});
