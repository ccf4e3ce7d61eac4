import { individualsChart } from '#shared/science/controlChart.ts';
import { ewmaChart } from '#shared/science/ewmaChart.ts';
import { type LineDrift, lineDrift, SETTLED_VALUES_NEEDED } from '#shared/science/lineDrift.ts';
import { runsRules } from '#shared/science/runsRules.ts';
import { DRIFT_EWMA } from '#shared/science/selfStartingEwma.ts';
import { trend } from '#shared/science/trend.ts';
import type { LineMeasureStanding, LinePoint } from '#shared/views.ts';
import type { LineMeasure } from './lineMeasures.ts';

type Taken = { fermentId: string; generation: number; value: number };

/** Ferments in which a measure was taken, by generation and then by the day they were pitched. */
export function measured(points: readonly LinePoint[], key: LineMeasure['key']): Taken[] {
  return points
    .toSorted((a, b) => a.generation - b.generation || a.pitchedAt.localeCompare(b.pitchedAt))
    .flatMap(({ fermentId, generation, [key]: value }) =>
      value === null ? [] : [{ fermentId, generation, value }],
    );
}

/** How a measure of a line goes by generation; settled values of other lines lend their spread. */
export function measureStanding(
  points: readonly LinePoint[],
  { key, worse }: LineMeasure,
  otherLines: readonly (readonly number[])[],
): LineMeasureStanding {
  const taken = measured(points, key);
  const drift = lineDrift(taken, { otherLines });
  const limits = limitsOf(drift);
  const averages = averagesOf(drift, limits);
  const patterns = patternsOf(drift, limits);
  return {
    key,
    state: taken.length === 0 ? 'not measured' : drift.state,
    isDecline: drift.direction !== undefined && drift.direction === worse,
    since: drift.since ?? null,
    direction: drift.direction ?? null,
    evidence: taken.length === 0 ? 'not measured yet' : drift.evidence,
    limits,
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

function limitsOf({ points }: LineDrift): Limits | null {
  const settled = points.filter(({ role }) => role === 'baseline').map(({ value }) => value);
  if (settled.length < SETTLED_VALUES_NEEDED) return null;
  const { centre, sigma, lower, upper } = individualsChart(settled);
  return sigma > 0 ? { centre, sigma, lower, upper, values: settled.length } : null;
}

/** The EWMA of the later values about the settled centre, as the charts of a handbook draw it. */
function averagesOf({ points }: LineDrift, limits: Limits | null): Map<number, Average> {
  if (limits === null) return new Map();
  const first = points.findIndex(({ role }) => role === 'judged');
  if (first < 0) return new Map();
  const later = points.slice(first).map(({ value }) => value);
  const { centre, sigma } = limits;
  return new Map(
    ewmaChart(later, { centre, sigma, ...DRIFT_EWMA, limits: 'exact' }).map(
      ({ ewma, lower, upper, side }, i) => [
        first + i,
        { value: ewma, lower, upper, isOut: side !== undefined },
      ],
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
