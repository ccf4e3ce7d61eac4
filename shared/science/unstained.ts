import { logSdFromRange } from './logNormalSum.ts';

/** Share alive taken for yeast that nobody stained [%]: good to poor yeast. A guess, no source. */
export const unstained = { percent: 90, low: 75, high: 98 } as const;

/** Standard deviation of the natural logarithm of that guess [-]. */
export const unstainedLogSd = logSdFromRange(unstained);
