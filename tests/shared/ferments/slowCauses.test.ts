import { expect, test } from 'vitest';
import { slowCauses } from '#shared/ferments/slowCauses.ts';
import { pitchedAt, someFerment } from './someFerment.ts';

function recordedOf(ferment: ReturnType<typeof someFerment>) {
  const { causes, pitchFrom } = slowCauses(ferment, pitchedAt);
  const of = (name: string) => causes.find(({ cause }) => cause === name)?.recorded;
  return { pitchFrom, of };
}

test('slowCauses(…) reckons the pitch from what was expected when nothing was counted', () => {
  const found = recordedOf(someFerment([{ hours: 20, gravitySg: 1.036, tempC: 16 }]));
  expect(found.pitchFrom).toBe('reckoned at pitching');
  expect(found.of('viable pitch')).toBeCloseTo(1, 3);
  const others = ['oxygen', 'temperature', 'viability', 'storage', 'zinc'].map(found.of);
  expect(others).toEqual([9, 1, 0.95, 2, undefined]);
});

// 3.75 million/mL, 95 % alive, over 0.75 million/mL/°P at 9.993 °P: 0.475 of the target.
test('slowCauses(…) prefers the cells counted in the FV soon after the pitch', () => {
  const found = recordedOf(someFerment([{ hours: 1.5, cellsPerMl: 3.75e6 }]));
  expect(found.pitchFrom).toBe('counted in the FV');
  expect(found.of('viable pitch')).toBeCloseTo(0.475, 3);
});

test('slowCauses(…) does not take cells that have grown for cells pitched', () => {
  const found = recordedOf(someFerment([{ hours: 20, cellsPerMl: 40e6 }]));
  expect(found.pitchFrom).toBe('reckoned at pitching');
});

test('slowCauses(…) knows no pitch, viability or store where the log does not', () => {
  const [pitch] = someFerment([]).pitches;
  if (pitch === undefined) throw new Error('no pitch');
  const { expectedViableCells: _, lotTakenAt: _at, viabilityPercent: _alive, ...bare } = pitch;
  const { causes, pitchFrom } = slowCauses(someFerment([], { pitches: [bare] }), pitchedAt);
  expect(pitchFrom).toBe(null);
  for (const name of ['viable pitch', 'viability', 'storage'])
    expect(causes.find(({ cause }) => cause === name)?.finding).toBe('not recorded');
});
