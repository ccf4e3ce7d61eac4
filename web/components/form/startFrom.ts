import type { Fields } from './formEntries.ts';

/** What the fields of a form show for a record, so that a correction starts from what stands. */
export function startFrom<F extends Fields>(
  fields: F,
  record: object,
): { [K in keyof F]?: string | undefined };
export function startFrom(fields: Fields, record: object): Record<string, string | undefined> {
  const stored = new Map<string, unknown>(Object.entries(record));
  return Object.fromEntries(
    Object.entries(fields).flatMap(([name, { show }]) => {
      const value = stored.get(name);
      return value === undefined || value === null ? [] : [[name, show(value)]];
    }),
  );
}
