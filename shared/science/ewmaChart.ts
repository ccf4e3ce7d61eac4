import { refuse, requirePositive, requireShare } from './refusal.ts';

type EwmaPoint = {
  ewma: number;
  lower: number;
  upper: number;
  side: 'above' | 'below' | undefined;
};

/**
 * Exponentially weighted moving average of a series, with its control limits.
 *
 *   z_i = lambda x_i + (1 - lambda) z_(i-1), z_0 = centre
 *   limits = centre -+ k sigma sqrt(lambda / (2 - lambda) (1 - (1 - lambda)^(2i)));  steady: without the last factor
 *
 * @param values  in order [any unit], finite
 * @param chart  centre [unit], sigma [unit] > 0, lambda [-] above 0 to 1, k [-] > 0, limits exact or steady
 * @returns one point for each value
 * @throws RangeError outside the bounds above
 *
 * Remembers: with lambda 0.2 an observation five back still weighs 0.08. Source: [NISTHandbook], 6.3.2.4.
 */
export function ewmaChart(
  values: readonly number[],
  chart: {
    centre: number;
    sigma: number;
    lambda: number;
    k: number;
    limits: 'exact' | 'steady';
  },
): EwmaPoint[] {
  const { centre, sigma, lambda, k, limits } = chart;
  requirePositive('ewmaChart', 'sigma', sigma);
  requirePositive('ewmaChart', 'k', k);
  requireShare('ewmaChart', 'lambda', lambda);
  if (!values.every(Number.isFinite)) refuse('ewmaChart', 'values must be finite', values);
  const steady = k * sigma * Math.sqrt(lambda / (2 - lambda));
  let ewma = centre;
  return values.map((value, i) => {
    ewma = lambda * value + (1 - lambda) * ewma;
    const grown = limits === 'exact' ? Math.sqrt(1 - (1 - lambda) ** (2 * (i + 1))) : 1;
    const lower = centre - steady * grown;
    const upper = centre + steady * grown;
    return {
      ewma,
      lower,
      upper,
      side: ewma > upper ? 'above' : ewma < lower ? 'below' : undefined,
    };
  });
}
