import { expect, test } from 'vitest';
import { hourMs } from '#shared/durations.ts';
import { linePoint } from '#shared/lines/linePoint.ts';
import { aLineFerment, readingsWith } from '#tests/support/line.ts';

test('linePoint(ferment) measures the half time on straight lines between readings', () => {
  const { pitchedMs } = aLineFerment(3);
  const point = linePoint(aLineFerment(3, { readings: readingsWith(pitchedMs, 31.5) }));
  expect(point.halfTimeHours).toBeCloseTo(31.5, 9);
  // (1040 - 1010) / 40, by hand.
  expect(point.apparentAttenuationPercent).toBeCloseTo(75, 9);
  expect(point.cropRatio).toBeCloseTo(2.8, 12);
});

test('a ferment that still runs has neither half time nor attenuation', () => {
  const running = linePoint(aLineFerment(3, { chilledMs: null, rackedMs: null }));
  expect(running).toMatchObject({ halfTimeHours: null, apparentAttenuationPercent: null });
});

// Wilson 1927, the formula worked apart from this code: 480 of 500 is 93.90 to 97.40 %.
test('viability at pitching carries its Wilson range', () => {
  const { viabilityRange, viabilityPercent } = linePoint(aLineFerment(3));
  expect(viabilityPercent).toBe(96);
  expect(viabilityRange?.low).toBeCloseTo(93.9, 1);
  expect(viabilityRange?.high).toBeCloseTo(97.4, 1);
});

// Binomial tails summed term by term apart from this code: 5 of 200 is 0.82 to 5.74 %.
test('petites carry their exact range, and an upper limit when none is found', () => {
  const five = linePoint(aLineFerment(3, { petites: { found: 5, examined: 200 } }));
  expect(five.petitePercent).toBe(2.5);
  expect(five.petiteRange?.low).toBeCloseTo(0.82, 2);
  expect(five.petiteRange?.high).toBeCloseTo(5.74, 2);
  const none = linePoint(aLineFerment(3, { petites: { found: 0, examined: 200 } }));
  expect(none.petiteRange).toMatchObject({ value: 0, low: 0 });
  expect(none.petiteRange?.high).toBeCloseTo(1.49, 2);
});

test('cells in suspension are the most from 12 h after pitching until it is chilled', () => {
  const { pitchedMs, readings } = aLineFerment(3);
  const counted = [1, 20, 30, 90].map((hours, i) => ({
    happenedMs: pitchedMs + hours * hourMs,
    gravitySg: null,
    cellsPerMl: [90e6, 41e6, 38e6, 99e6][i] ?? 0,
  }));
  const point = linePoint(aLineFerment(3, { readings: [...readings, ...counted] }));
  expect(point.suspendedMillionPerMl).toBe(41);
  expect(linePoint(aLineFerment(3)).suspendedMillionPerMl).toBe(null);
});

test('a crop weighed from a pitch measured in litres has no ratio', () => {
  const pitches = [{ amountL: 11, amountKg: null }];
  expect(linePoint(aLineFerment(3, { pitches })).cropRatio).toBe(null);
  expect(linePoint(aLineFerment(3, { crops: [] })).cropRatio).toBe(null);
});
