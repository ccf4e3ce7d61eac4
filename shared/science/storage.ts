import { logSdFromRange } from './logNormalSum.ts';
import { type LossRate, priorLossRate } from './lossRate.ts';
import { Z_95 } from './normal.ts';
import { refuse, requireNotNegative, requirePositive } from './refusal.ts';

export { type LossRate, learnedLossRate, priorLossRate } from './lossRate.ts';

export type StoragePart = { hours: number; tempC: number };

export const REFERENCE_TEMP_C = 1;

/**
 * Age in store as days at one temperature, so that a warm weekend and a cold week compare.
 *
 *   sum of hours/24 * Q^((T - ref) / 10)
 *
 * @param history  hours [h] >= 0 at each temperature [°C]
 * @param referenceTempC  [°C]
 * @param q10  Q [-], > 0
 * @returns equivalent days at the reference temperature [d]
 * @throws RangeError outside the bounds above
 *
 * Valid from 1 to 25 °C, where the losses were published. Source: derived from [McCaigBendiak1985].
 */
export function equivalentDays(
  history: readonly StoragePart[],
  referenceTempC = REFERENCE_TEMP_C,
  q10 = priorLossRate.q10,
): number {
  requirePositive('equivalentDays', 'q10', q10);
  let days = 0;
  for (const { hours, tempC } of history) {
    requireNotNegative('equivalentDays', 'hours', hours);
    if (!Number.isFinite(tempC)) refuse('equivalentDays', 'tempC must be a number', tempC);
    days += (hours / 24) * q10 ** ((tempC - referenceTempC) / 10);
  }
  return days;
}

/**
 * Share of living cells expected to survive a time in store, with a 95 % range.
 *
 *   S = exp(-k d), d equivalent days at 1 °C; range by k exp(±z logSd)
 *
 * @param history  hours [h] >= 0 at each temperature [°C]
 * @param rate  loss rate k [1/d] with its spread
 * @returns surviving fraction [-] 0 to 1, its range, and the standard deviation of ln S
 * @throws RangeError outside the bounds above
 *
 * A prediction and a warning, never a measurement. Source: derived from [McCaigBendiak1985].
 */
export function survivalAfter(history: readonly StoragePart[], rate: LossRate = priorLossRate) {
  requirePositive('survivalAfter', 'perDay', rate.perDay);
  requireNotNegative('survivalAfter', 'logSd', rate.logSd);
  const loss = rate.perDay * equivalentDays(history, REFERENCE_TEMP_C, rate.q10);
  const factor = Math.exp(Z_95 * rate.logSd);
  return {
    fraction: Math.exp(-loss),
    low: Math.exp(-loss * factor),
    high: Math.exp(-loss / factor),
    logSd: loss * rate.logSd,
  };
}

/**
 * Viability expected now from one measured earlier and the temperatures since.
 *
 *   v S; ln-distances to the limits of v and S added in squares
 *
 * @param measured  percent with its 95 % limits [%], 0 to 100, low <= percent <= high
 * @param history  hours [h] >= 0 at each temperature [°C] since
 * @param rate  loss rate k [1/d] with its spread
 * @returns viability [%] with a 95 % range, at most 100, and the standard deviation of its logarithm
 *   (undefined where the range begins at none alive)
 * @throws RangeError outside the bounds above
 *
 * Source: derived from [McCaigBendiak1985].
 */
export function predictedViability(
  measured: { percent: number; low: number; high: number },
  history: readonly StoragePart[],
  rate: LossRate = priorLossRate,
) {
  const { percent, low, high } = measured;
  if (!(low >= 0 && low <= percent && percent <= high && high <= 100)) {
    refuse('predictedViability', 'low <= percent <= high must hold within 0 to 100', percent);
  }
  const survival = survivalAfter(history, rate);
  const value = percent * survival.fraction;
  // Too few left to have a logarithm.
  if (low === 0 || value === 0 || survival.low === 0) {
    return { percent: value, low: 0, high: high * survival.high, logSd: undefined };
  }
  const down = Math.hypot(Math.log(percent / low), Math.log(survival.fraction / survival.low));
  const up = Math.hypot(Math.log(high / percent), Math.log(survival.high / survival.fraction));
  const measuredLogSd = logSdFromRange({ low, high });
  return {
    percent: value,
    low: value * Math.exp(-down),
    high: Math.min(100, value * Math.exp(up)),
    logSd: Math.hypot(measuredLogSd, survival.logSd),
  };
}
