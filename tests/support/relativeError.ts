/** How far a result lies from the truth, as a fraction of the truth. */
export function relativeError(result: number, truth: number): number {
  return Math.abs(result - truth) / Math.abs(truth);
}
