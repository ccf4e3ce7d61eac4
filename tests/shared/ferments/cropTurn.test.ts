import { expect, test } from 'vitest';
import { cropTurn } from '#shared/ferments/cropTurn.ts';

type Ferment = Parameters<typeof cropTurn>[0];
const skim = { lotId: 'lot', code: 'TN-412A', cut: 'skim 2', at: '2026-03-04T08:00:00Z' } as const;
const aFerment = (facts: Partial<Ferment> = {}): Ferment => ({
  ...{ state: 'fermenting', crops: [], hoursSincePitch: 38, apparentAttenuationPercent: 44 },
  ...{ strain: { crops: 'top' }, record: { originalGravitySg: 1.04 } },
  ...facts,
});

// The window, 24 h and 37.5 % of apparent attenuation, is common practice, no source.
test('a head is due once it is old enough and down far enough, and nothing was taken', () => {
  expect(cropTurn(aFerment())).toEqual({ turn: 'due' });
  expect(cropTurn(aFerment({ hoursSincePitch: 24, apparentAttenuationPercent: 37.5 }))).toEqual({
    turn: 'due',
  });
});

test('before that it is told how long, and to what gravity', () => {
  const turn = cropTurn(aFerment({ hoursSincePitch: 5, apparentAttenuationPercent: null }));
  expect(turn).toMatchObject({ turn: 'not yet', hoursLeft: 19, isDownEnough: false });
  // 40 degrees less 37.5 % of them: 25.
  expect(turn.turn === 'not yet' && turn.fromGravitySg).toBeCloseTo(1.025, 9);
  expect(cropTurn(aFerment({ hoursSincePitch: 40, apparentAttenuationPercent: 10 }))).toMatchObject(
    { turn: 'not yet', hoursLeft: 0, isDownEnough: false },
  );
  expect(cropTurn(aFerment({ hoursSincePitch: 20 }))).toMatchObject({ isDownEnough: true });
});

test('one cropped already, or chilled with its head still on, is past', () => {
  expect(cropTurn(aFerment({ crops: [skim] }))).toEqual({ turn: 'past' });
  expect(cropTurn(aFerment({ state: 'chilled' }))).toEqual({ turn: 'past' });
});

test('a cone is drawn when the beer is chilled', () => {
  const bottom = { strain: { crops: 'bottom' } } as const;
  expect(cropTurn(aFerment(bottom))).toEqual({ turn: 'when chilled' });
  expect(cropTurn(aFerment({ ...bottom, state: 'chilled' }))).toEqual({ turn: 'due' });
  expect(cropTurn(aFerment({ ...bottom, state: 'chilled', crops: [skim] }))).toEqual({
    turn: 'past',
  });
});
