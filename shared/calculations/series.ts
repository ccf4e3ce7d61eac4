import * as z from 'zod/mini';

/** A list of plain numbers in order, each named where it is at fault. */
export function series(name: string, { least, most }: { least: number; most: number }) {
  return z
    .array(number(name), {
      error: `${name} must be a list of numbers`,
    })
    .check(
      z.minLength(least, { error: `${name} must hold at least ${least} numbers` }),
      z.maxLength(most, { error: `${name} may hold at most ${most} numbers` }),
    );
}

/** Within this no sum of squares overflows. */
const greatest = 1e12;

function number(name: string) {
  const error = `Each of ${name} must be a number of at most ${greatest} either way`;
  return z.number({ error }).check(z.gte(-greatest, { error }), z.lte(greatest, { error }));
}
