import { expect, test } from 'vitest';
import { pitchedFromPropagation, propagationPlan } from '#shared/science/propagation.ts';

// Worked: ten UK barrels at 7.49 million/mL need 1.2265e13 cells.
const tenBarrels = Object.freeze({ neededCells: 1.2265e13, readyAtHours: 1000 });

test('propagationPlan(need) of ten barrels ends in 81.8 L, a twentieth of the brew', () => {
  const { neededVolumeL, steps } = propagationPlan(tenBarrels);
  expect(neededVolumeL).toBeCloseTo(81.8, 1);
  expect(1636.59 / neededVolumeL).toBeCloseTo(20, 1);
  expect(steps.at(-1)?.volumeL).toBeCloseTo(neededVolumeL, 9);
});

test('propagationPlan(need) never steps up by more than ten, from the first tube on', () => {
  for (const neededCells of [1e9, 4.9e9, 1e12, 1.2265e13, 1e15]) {
    const { steps } = propagationPlan({ neededCells, readyAtHours: 0 });
    for (const [i, step] of steps.entries()) {
      const before = steps[i - 1];
      if (before === undefined) expect(step.volumeL).toBeLessThanOrEqual(0.100001);
      else expect(step.volumeL / before.volumeL).toBeLessThanOrEqual(10 + 1e-9);
    }
  }
});

test('propagationPlan(need) takes four steps for exactly ten times three times over', () => {
  const { steps } = propagationPlan({ neededCells: 10 * 1000 * 150e6, readyAtHours: 0 });
  expect(steps.map(({ volumeL }) => Number(volumeL.toPrecision(6)))).toEqual([0.01, 0.1, 1, 10]);
});

test('propagationPlan(need) dates the steps back to back, the last ending when it is wanted', () => {
  const { steps, startHours } = propagationPlan({ ...tenBarrels, hoursPerStep: 60 });
  expect(steps.at(-1)?.endHours).toBe(1000);
  expect(steps[0]?.startHours).toBe(startHours);
  for (const [i, step] of steps.entries()) {
    expect(step.endHours - step.startHours).toBe(60);
    expect(step.startHours).toBe(steps[i - 1]?.endHours ?? startHours);
  }
});

test('propagationPlan(need) takes about two weeks from slope to ten barrels', () => {
  // Lead time from slope to pitch as given in training notes: about two weeks.
  const { startHours } = propagationPlan({ ...tenBarrels, hoursPerStep: 60 });
  const days = (1000 - startHours) / 24;
  expect(days).toBeGreaterThan(10);
  expect(days).toBeLessThan(18);
});

test('propagationPlan(need) carries the cells of one step into the next', () => {
  const { steps } = propagationPlan(tenBarrels);
  for (const [i, step] of steps.entries()) {
    const before = steps[i - 1];
    const carried = before && (before.endingCellsPerMl * before.volumeL) / step.volumeL;
    if (carried === undefined) expect(step.startingCellsPerMl).toBe(undefined);
    else expect(step.startingCellsPerMl).toBeCloseTo(carried, 3);
  }
  expect(steps[0]?.endingCellsPerMl).toBe(50e6);
  expect(steps.at(-1)?.endingCellsPerMl).toBe(150e6);
});

test('pitchedFromPropagation(20 L at 150 million) in ten barrels is only 1.83 million/mL', () => {
  expect(pitchedFromPropagation(20, 150e6, 1636.59) / 1e6).toBeCloseTo(1.83, 2);
});

test('propagationPlan(need) refuses no need, a ratio of one and no time', () => {
  expect(() => propagationPlan({ ...tenBarrels, neededCells: 0 })).toThrow(/neededCells/);
  expect(() => propagationPlan({ ...tenBarrels, greatestStepRatio: 1 })).toThrow(
    /greatestStepRatio/,
  );
  expect(() => propagationPlan({ ...tenBarrels, readyAtHours: NaN })).toThrow(/readyAtHours/);
  expect(() => pitchedFromPropagation(20, 150e6, 0)).toThrow(/brewL/);
});
