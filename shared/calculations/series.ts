import * as z from 'zod/mini';

type Length = { least: number; most: number };

/** A list of plain numbers in order, each named where it is at fault. */
export const series = (name: string, length: Length) =>
  listOf(name, plainNumber(`Each of ${name}`), length);

/** A list of numbers of some kind. */
export function listOf<S extends z.ZodMiniType<number>>(
  name: string,
  each: S,
  { least, most }: Length,
) {
  return z
    .array(each, { error: `${name} must be a list of numbers` })
    .check(
      z.minLength(least, { error: `${name} must hold at least ${least} numbers` }),
      z.maxLength(most, { error: `${name} may hold at most ${most} numbers` }),
    );
}

/** Within this no sum of squares overflows. */
export const GREATEST = 1e12;
/** Nearer to nothing than this a difference can be too small to divide by. */
const LEAST = 1e-12;

/** A plain number of any unit, of a size that sums can be done with. */
export function plainNumber(label: string) {
  const error = `${label} must be a number: 0, or at least 1e-12 and at most 1e12 either way`;
  return z.number({ error }).check(
    z.gte(-GREATEST, { error }),
    z.lte(GREATEST, { error }),
    z.refine((value) => value === 0 || Math.abs(value) >= LEAST, { error }),
  );
}
