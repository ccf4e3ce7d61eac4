import { exactPoissonInterval } from './poissonInterval.ts';
import { requireCount, requirePositive } from './refusal.ts';

/** Wild yeast at which pitching yeast is thrown away [per million cells]. Source: [Richards1968]. */
export const WILD_YEAST_DISCARD_PER_MILLION = 100;

const PER_MILLION = 1e6;
const CONFIDENCE = 0.95;

/**
 * Contaminants among a million culture cells, from the colonies that grew on a plate.
 *
 *   c = 1e6 k / N,  limits 1e6 [exact Poisson limits of k] / N;  for k = 0 only c < -1e6 ln(0.05) / N
 *
 * @param colonies  k [-], whole, >= 0
 * @param cellsPlated  N, culture cells put on the plate [cells], > 0
 * @returns contaminants and their 95 % limits [per million cells]; without colonies the upper limit
 *   is one-sided, about 3e6 / N
 * @throws RangeError outside the bounds above
 *
 * Valid while colonies do not run together and every contaminant grows. Source: [Garwood1936].
 */
export function contaminantsPerMillion(colonies: number, cellsPlated: number) {
  requireCount('contaminantsPerMillion', 'colonies', colonies);
  requirePositive('contaminantsPerMillion', 'cellsPlated', cellsPlated);
  const scale = PER_MILLION / cellsPlated;
  if (colonies === 0) return { value: 0, low: 0, high: -Math.log(1 - CONFIDENCE) * scale };
  const { low, high } = exactPoissonInterval(colonies, CONFIDENCE);
  return { value: colonies * scale, low: low * scale, high: high * scale };
}

/**
 * Whether what was found lies over a limit, under it, or on either side of it for all the plate
 * can tell.
 *
 * @param found  contaminants with their 95 % limits [per million cells]
 * @param limit  discard limit [per million cells], > 0
 * @returns `over` when even the lower limit reaches it, `under` when the upper one does not
 * @throws RangeError for a limit outside the bounds above
 *
 * Source: own rule; the limit is the brewery's.
 */
export function againstLimit(
  { low, high }: { low: number; high: number },
  limit: number,
): 'over' | 'unclear' | 'under' {
  requirePositive('againstLimit', 'limit', limit);
  if (low >= limit) return 'over';
  return high < limit ? 'under' : 'unclear';
}
