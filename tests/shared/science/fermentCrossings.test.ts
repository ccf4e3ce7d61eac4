import { expect, test } from 'vitest';
import { fermentCrossings } from '#shared/science/fermentCrossings.ts';

const readings = (rows: readonly (readonly [number, number])[]) =>
  rows.map(([hours, gravitySg]) => Object.freeze({ hours, gravitySg }));

// Straight lines, so each time can be worked on paper.
const atRest = readings([
  [0, 1.044],
  [10, 1.042],
  [40, 1.012],
  [60, 1.01],
  [70, 1.01],
]);

test('fermentCrossings(readings) gives the times worked on paper', () => {
  const found = fermentCrossings(atRest);
  expect(found.plainLagHours?.value).toBeCloseTo(10, 9);
  expect(found.hours1040to1020?.value).toBeCloseTo(20, 9);
  expect(found.greatestRateDegreesPerHour?.value).toBeCloseTo(1, 9);
  expect(found.endGravitySg?.value).toBe(1.01);
  expect(found.halfTimeHours?.value).toBeCloseTo(25, 9);
  expect(found.timeToWithinOneDegreeHours?.value).toBeCloseTo(50, 9);
});

test('fermentCrossings(readings) gives no end and no half time while the gravity still falls', () => {
  const found = fermentCrossings(atRest.slice(0, 3));
  expect(Object.keys(found).sort()).toEqual([
    'greatestRateDegreesPerHour',
    'hours1040to1020',
    'plainLagHours',
  ]);
});

test('fermentCrossings(readings) has no hours from 1040 to 1020 for a wort under 1040', () => {
  const found = fermentCrossings(
    readings([
      [0, 1.038],
      [30, 1.012],
    ]),
  );
  expect(found.hours1040to1020).toBe(undefined);
});

test('fermentCrossings([]) finds nothing', () => {
  expect(fermentCrossings([])).toEqual({});
});
