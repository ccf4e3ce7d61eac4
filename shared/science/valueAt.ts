/**
 * The element at an index that must exist.
 *
 * @param values  any list
 * @param index  position [-], whole, 0 to length - 1
 * @returns the element
 * @throws RangeError when there is none
 *
 * Source: none needed.
 */
export function valueAt<T>(values: readonly T[], index: number): T {
  const value = values[index];
  if (value === undefined) throw new RangeError(`valueAt: index must be in the list, got ${index}`);
  return value;
}
