import { expect, test } from 'vitest';
import { remembered } from '#shared/remembered.ts';

function counted(most: number) {
  const asked: number[] = [];
  const double = remembered(({ value }: { value: number }) => {
    asked.push(value);
    return value === 0 ? undefined : { doubled: 2 * value };
  }, most);
  return { asked, double };
}

test('remembered(answer, most) works an answer out once, whoever asks', () => {
  const { asked, double } = counted(4);
  const first = double({ value: 3 });
  expect(first).toEqual({ doubled: 6 });
  expect(double({ value: 3 })).toBe(first);
  expect(asked).toEqual([3]);
});

test('remembered(answer, most) knows an answer of nothing too', () => {
  const { asked, double } = counted(4);
  expect([double({ value: 0 }), double({ value: 0 })]).toEqual([undefined, undefined]);
  expect(asked).toEqual([0]);
});

test('remembered(answer, most) lets go of the one not asked for longest', () => {
  const { asked, double } = counted(2);
  for (const value of [1, 2, 1, 3, 1, 2]) double({ value });
  expect(asked).toEqual([1, 2, 3, 2]);
});
