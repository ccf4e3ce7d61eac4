import type { Row } from './cells.ts';

/** A name as it is compared: in small letters, without spaces around it. */
export const nameKey = (name: string) => name.trim().toLowerCase();

/** What is written down in Setup, and in no file of old records. */
const isOfSetup = (what: string) => what === 'fermenter' || what === 'strain';

/** The id of the record a cell names; a name nobody has is reported. */
export function named(row: Row, key: string, known: ReadonlyMap<string, string>, what: string) {
  const name = row.text(key);
  if (name === undefined) return undefined;
  const where = isOfSetup(what)
    ? 'in Setup: add it there, or write it here as it is written there'
    : 'here or in the files';
  return known.get(nameKey(name)) ?? row.report(key, `There is no ${what} ${name} ${where}`);
}

/** Which of these a cell says, however it is capitalised; anything else is reported. */
export function oneOf<const T extends string>(
  row: Row,
  key: string,
  values: readonly T[],
): T | undefined {
  const typed = row.text(key);
  if (typed === undefined) return undefined;
  return (
    values.find((value) => nameKey(value) === nameKey(typed)) ??
    row.report(key, `${typed} is none of: ${values.join(', ')}`)
  );
}

type Complete<T> = { [K in keyof T]: Exclude<T[K], undefined> };

/** The facts a row cannot do without; a blank cell among them is reported. */
export function complete<T extends Record<string, unknown>>(
  row: Row,
  facts: T,
): Complete<T> | undefined {
  for (const [key, value] of Object.entries(facts))
    if (value === undefined && row.text(key) === undefined)
      row.report(key, 'This cell is needed and is blank');
  return isComplete(facts) ? facts : undefined;
}

function isComplete<T extends Record<string, unknown>>(facts: T): facts is T & Complete<T> {
  return Object.values(facts).every((value) => value !== undefined);
}
