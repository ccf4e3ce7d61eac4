import { ewmaChart } from '#shared/science/ewmaChart.ts';
import type { LineDrift } from '#shared/science/lineDrift.ts';
import { type MeasureBounds, withinBounds } from '#shared/science/measureBounds.ts';
import { runsRules } from '#shared/science/runsRules.ts';
import { DRIFT_EWMA } from '#shared/science/selfStartingEwma.ts';
import { trend } from '#shared/science/trend.ts';
import type { LineMeasureStanding } from '#shared/views/lines.ts';
import type { LineMeasure } from './lineMeasures.ts';
import { measureDrift, type Taken } from './measureDrift.ts';

/** How a measure of a line goes by generation, with all that its chart is drawn from. */
export function measureStanding(
  taken: readonly Taken[],
  measure: LineMeasure,
  otherLines: readonly (readonly number[])[],
): LineMeasureStanding {
  const { found, drift } = measureDrift(taken, measure, otherLines);
  const averages = averagesOf(drift, found.limits, measure.bounds);
  const patterns = patternsOf(drift, found.limits);
  return {
    ...found,
    points: drift.points.map(({ generation, value, role }, place) => ({
      fermentId: taken[place]?.fermentId ?? '',
      generation,
      value,
      role,
      average: averages.get(place) ?? null,
      patterns: patterns.get(place) ?? [],
    })),
    trend: trendOf(drift),
  };
}

type Limits = NonNullable<LineMeasureStanding['limits']>;
type Average = NonNullable<LineMeasureStanding['points'][number]['average']>;

/** The EWMA of the later values about the settled centre, as the charts of a handbook draw it. */
function averagesOf(
  { points }: LineDrift,
  limits: Limits | null,
  bounds: MeasureBounds,
): Map<number, Average> {
  if (limits === null) return new Map();
  const first = points.findIndex(({ role }) => role === 'judged');
  if (first < 0) return new Map();
  const later = points.slice(first).map(({ value }) => value);
  const { centre, sigma } = limits;
  return new Map(
    ewmaChart(later, { centre, sigma, ...DRIFT_EWMA, limits: 'exact' }).map(
      ({ ewma, side, ...its }, i) => {
        const { lower, upper } = withinBounds(its, bounds);
        return [first + i, { value: ewma, lower, upper, isOut: side !== undefined }];
      },
    ),
  );
}

/** Patterns that end at a later value; the settled ones may begin them, the first ones may not. */
function patternsOf({ points }: LineDrift, limits: Limits | null): Map<number, string[]> {
  const found = new Map<number, string[]>();
  if (limits === null) return found;
  const freshCount = points.filter(({ role }) => role === 'fresh').length;
  const values = points.slice(freshCount).map(({ value }) => value);
  for (const { index, rule, source } of runsRules(values, limits, 'Western Electric 1956')) {
    const place = index + freshCount;
    if (points[place]?.role === 'judged')
      found.set(place, [...(found.get(place) ?? []), `${rule} (${source})`]);
  }
  return found;
}

function trendOf({ points }: LineDrift): LineMeasureStanding['trend'] {
  const settledOn = points.filter(({ role }) => role !== 'fresh');
  if (settledOn.length < 3) return null;
  const found = trend(spreadOut(settledOn));
  return {
    values: settledOn.length,
    s: found.s,
    variance: found.variance,
    pValue: found.pValue,
    slopePerGeneration: found.slope,
    slopeLow: found.slopeLow,
    slopeHigh: found.slopeHigh,
  };
}

/** Ferments of one generation stand evenly between it and the next, in the order pitched. */
function spreadOut(points: readonly { generation: number; value: number }[]) {
  const sizes = new Map<number, number>();
  for (const { generation } of points) sizes.set(generation, (sizes.get(generation) ?? 0) + 1);
  const seen = new Map<number, number>();
  return points.map(({ generation, value }) => {
    const nth = seen.get(generation) ?? 0;
    seen.set(generation, nth + 1);
    return { t: generation + nth / (sizes.get(generation) ?? 1), y: value };
  });
}
