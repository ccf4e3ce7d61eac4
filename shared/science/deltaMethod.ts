import { centralDifferences } from './centralDifferences.ts';
import { valueAt } from './valueAt.ts';

/** A figure, with its standard error where one is known. */
export type Estimate = { value: number; standardError?: number | undefined };

/**
 * A figure derived from fitted parameters, with its standard error by the delta method.
 *
 *   var g(p) = (dg/dp)' V (dg/dp)
 *
 * @param derived  the figure from the parameters, undefined where it does not apply
 * @param parameters  fitted values
 * @param covariance  their covariance matrix
 * @returns value and standard error in the unit of the figure; undefined where it does not apply
 * @throws RangeError when the shapes do not fit
 *
 * First order: exact for linear figures, good while the standard errors are small. Source: [BatesWatts1988], 2.3.
 */
export function derivedEstimate(
  derived: (parameters: readonly number[]) => number | undefined,
  parameters: readonly number[],
  covariance: readonly (readonly number[])[],
): Estimate | undefined {
  const value = derived(parameters);
  if (value === undefined) return undefined;
  const slopes = centralDifferences((p) => [derived(p) ?? NaN], parameters)(parameters);
  const gradient = valueAt(slopes, 0);
  let variance = 0;
  for (const [i, row] of covariance.entries()) {
    for (const [j, covarianceOfTwo] of row.entries()) {
      variance += valueAt(gradient, i) * valueAt(gradient, j) * covarianceOfTwo;
    }
  }
  return variance >= 0 && variance < Infinity
    ? { value, standardError: Math.sqrt(variance) }
    : { value };
}
