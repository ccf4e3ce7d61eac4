import { valueAt } from './valueAt.ts';

/** Cube root of the rounding error: the step at which truncation and rounding are alike. */
const RELATIVE_STEP = 6e-6;

/**
 * Slopes of a list of predictions with respect to each parameter, by central differences.
 *
 *   df/dp = (f(p + h) - f(p - h)) / 2h with h = 6e-6 |p|
 *
 * @param predict  predictions from parameters
 * @param typical  size of each parameter, used for the step where one is exactly zero
 * @returns function from parameters to one row per prediction, one column per parameter
 *
 * Relative error about 1e-10 for smooth models. Source: [NocedalWright2006], 8.1.
 */
export function centralDifferences(
  predict: (parameters: readonly number[]) => readonly number[],
  typical: readonly number[],
): (parameters: readonly number[]) => number[][] {
  return (parameters) => {
    const columns = parameters.map((parameter, j) => {
      const size = Math.abs(parameter) || Math.abs(valueAt(typical, j)) || 1;
      const above = parameter + RELATIVE_STEP * size;
      const below = parameter - RELATIVE_STEP * size;
      const high = predict(parameters.map((value, k) => (k === j ? above : value)));
      const low = predict(parameters.map((value, k) => (k === j ? below : value)));
      return high.map((value, i) => (value - valueAt(low, i)) / (above - below));
    });
    return valueAt(columns, 0).map((_, i) => columns.map((column) => valueAt(column, i)));
  };
}
