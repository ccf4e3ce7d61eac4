import { refuse } from './refusal.ts';
import { valueAt } from './valueAt.ts';

/** Mean range of two over sigma, and upper limit of such ranges, as tabulated [NISTHandbook], 6.3.2.2. */
const MOVING_RANGE_FACTORS = { d2: 1.128, d4: 3.267 } as const;

export type IndividualsChart = {
  centre: number;
  sigma: number;
  lower: number;
  upper: number;
  meanMovingRange: number;
  /** Between each value and the one before it; one fewer than the values. */
  movingRanges: number[];
  movingRangeUpper: number;
  baselineCount: number;
};

/**
 * Individuals chart with limits from the moving range.
 *
 *   centre = mean x, sigma = mean |x_i - x_(i-1)| / 1.128, limits = centre -+ 3 sigma
 *
 * @param values  in order [any unit], finite
 * @param baseline  indices of the values that set the limits; all of them when left out
 * @returns centre, limits and moving ranges in the unit of the values
 * @throws RangeError with fewer than two values in the baseline, or one that is not finite
 *
 * In the baseline a range is taken only between values next to each other in the list; where none are,
 * between those that follow each other in the baseline. Source: [NISTHandbook], 6.3.2.2.
 */
export function individualsChart(
  values: readonly number[],
  baseline: readonly number[] = values.map((_, i) => i),
): IndividualsChart {
  if (!values.every(Number.isFinite)) refuse('individualsChart', 'values must be finite', values);
  const places = [...new Set(baseline)].sort((a, b) => a - b);
  if (places.length < 2) {
    refuse('individualsChart', 'baseline must hold at least two values', places.length);
  }
  const centre = mean(places.map((place) => valueAt(values, place)));
  const meanMovingRange = mean(baselineRanges(values, places));
  const sigma = meanMovingRange / MOVING_RANGE_FACTORS.d2;
  return {
    centre,
    sigma,
    lower: centre - 3 * sigma,
    upper: centre + 3 * sigma,
    meanMovingRange,
    movingRanges: values.slice(1).map((value, i) => Math.abs(value - valueAt(values, i))),
    movingRangeUpper: MOVING_RANGE_FACTORS.d4 * meanMovingRange,
    baselineCount: places.length,
  };
}

function baselineRanges(values: readonly number[], places: readonly number[]): number[] {
  const pairs = places.slice(1).map((place, i) => ({ place, before: valueAt(places, i) }));
  const neighbours = pairs.filter(({ place, before }) => place - before === 1);
  const used = neighbours.length > 0 ? neighbours : pairs;
  return used.map(({ place, before }) =>
    Math.abs(valueAt(values, place) - valueAt(values, before)),
  );
}

const mean = (values: readonly number[]) =>
  values.reduce((sum, value) => sum + value, 0) / values.length;
