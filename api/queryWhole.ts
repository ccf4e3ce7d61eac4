import * as z from 'zod/mini';

/** A whole number in a query, where every value is text; the document tells it as a number. */
export function queryWhole(
  label: string,
  { min, max }: { min: number; max: number },
  description: string,
) {
  const error = `${label} must be a whole number from ${min} to ${max}`;
  const isInRange = (text: string) =>
    /^\d{1,15}$/.test(text) && Number(text) >= min && Number(text) <= max;
  return z
    .pipe(z.string({ error }).check(z.refine(isInRange, { error })), z.transform(Number))
    .register(z.globalRegistry, { type: 'integer', minimum: min, maximum: max, description });
}
