import { individualsChart } from '#shared/science/controlChart.ts';
import { type LineDrift, lineDrift, SETTLED_VALUES_NEEDED } from '#shared/science/lineDrift.ts';
import { type MeasureBounds, withinBounds } from '#shared/science/measureBounds.ts';
import type { LineMeasureDrift, LineMeasureKey, LinePoint } from '#shared/views/lines.ts';
import type { LineMeasure } from './lineMeasures.ts';

/** One measure of one ferment. */
export type Taken = { fermentId: string; generation: number; value: number };

/** Ferments in which a measure was taken, in the order of the points. */
export const takenIn = (points: readonly LinePoint[], key: LineMeasureKey): Taken[] =>
  points.flatMap(({ fermentId, generation, [key]: value }) =>
    value === null ? [] : [{ fermentId, generation, value }],
  );

/** Whether a measure drifts; settled values of other lines lend their spread. */
export function measureDrift(
  taken: readonly Taken[],
  { key, worse, bounds }: LineMeasure,
  otherLines: readonly (readonly number[])[],
): { found: LineMeasureDrift; drift: LineDrift } {
  const drift = lineDrift(taken, { otherLines });
  const last = taken.at(-1);
  const found = {
    key,
    isDecline: drift.direction !== undefined && drift.direction === worse,
    since: drift.since ?? null,
    direction: drift.direction ?? null,
    limits: limitsOf(drift, bounds),
    ...(last === undefined
      ? { state: 'not measured' as const, evidence: 'not measured yet', last: null }
      : { state: drift.state, evidence: drift.evidence, last }),
  };
  return { found, drift };
}

function limitsOf({ points }: LineDrift, bounds: MeasureBounds): LineMeasureDrift['limits'] {
  const settled = points.filter(({ role }) => role === 'baseline').map(({ value }) => value);
  if (settled.length < SETTLED_VALUES_NEEDED) return null;
  const { centre, sigma, lower, upper } = individualsChart(settled);
  return sigma > 0
    ? withinBounds({ centre, sigma, lower, upper, values: settled.length }, bounds)
    : null;
}
