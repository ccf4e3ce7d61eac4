import { expect, test } from 'vitest';
import { type GravityFieldUnit, readGravity } from '#shared/gravityEntry.ts';
import { sgFromPlato } from '#shared/science/gravity.ts';

test.each<[number, GravityFieldUnit, number]>([
  [1.04, 'sg', 1.04],
  [1040, 'sg', 1.04],
  [0.998, 'sg', 0.998],
  [998, 'sg', 0.998],
  [1040, 'degrees', 1.04],
  [40, 'degrees', 1.04],
  [-2, 'degrees', 0.998],
  [1040, 'plato', 1.04],
  [10, 'plato', sgFromPlato(10)],
  [-0.5, 'plato', sgFromPlato(-0.5)],
])('%f in a field of %s is understood', (value, unit, gravitySg) => {
  const reading = readGravity(value, unit);
  expect(reading.kind).toBe('ok');
  expect(reading).toMatchObject({ gravitySg: expect.closeTo(gravitySg, 12) });
});

test.each<[number, GravityFieldUnit, number | undefined]>([
  [13, 'sg', 1.013],
  [40, 'sg', 1.04],
  [0.9, 'sg', undefined],
  [1.4, 'sg', undefined],
  [10400, 'sg', undefined],
  [-3, 'sg', undefined],
  [1.04, 'degrees', 1.04],
  [500, 'degrees', undefined],
  [1.04, 'plato', 1.04],
  [40, 'plato', 1.04],
  [-9, 'plato', undefined],
  [NaN, 'sg', undefined],
  [Infinity, 'plato', undefined],
])('%f in a field of %s is questioned', (value, unit, offerSg) => {
  const reading = readGravity(value, unit);
  expect(reading.kind).toBe('unsure');
  expect('offerSg' in reading ? reading.offerSg : undefined).toBe(offerSg);
});

// 13 °P lies between 1.050 (12.383) and 1.060 (14.734) of the ICUMSA table: 1052.6.
test('the question says what it would be understood as', () => {
  expect(readGravity(13, 'sg')).toMatchObject({
    message: '13 is no specific gravity: is 1013 meant; as °P it would be 1052.6?',
  });
  expect(readGravity(34.5, 'sg')).toEqual({
    ...{ kind: 'unsure', offerSg: 1.0345 },
    message: '34.5 is no specific gravity: is 1034.5 meant?',
  });
  expect(readGravity(40, 'plato')).toMatchObject({
    message: '40 is too high for °P: are 40 degrees, 1040, meant?',
  });
});
