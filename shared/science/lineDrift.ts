import { mannKendall } from './mannKendall.ts';
import { refuse } from './refusal.ts';
import { type DriftPoint, type KnownSpread, selfStartingEwma } from './selfStartingEwma.ts';

/** One measure of one ferment of a line. Several ferments may share a generation. */
export type LineValue = { generation: number; value: number };

const lineStates = ['settling', 'steady', 'drifting', 'too few'] as const;

export type LineDrift = {
  state: (typeof lineStates)[number];
  /** Generation at which the drift began, as near as the values tell. */
  since: number | undefined;
  direction: 'higher' | 'lower' | undefined;
  evidence: string;
  centre: number | undefined;
  points: (LineValue & { role: 'fresh' | 'baseline' | 'judged'; ewma: DriftPoint | undefined })[];
};

/** Generations whose values set the limits: the first from a fresh culture are commonly the slowest. */
export const SETTLED_GENERATIONS = { from: 2, to: 5 } as const;

/** Settled values needed of the line itself before anything is judged: a judgement. */
export const SETTLED_VALUES_NEEDED = 3;

/** A trend over all settled and later values is drift below this chance; tested from eight values. */
const TREND_IS_DRIFT = { belowP: 0.003, fromValues: 8 } as const;

/**
 * Whether a measure of a line drifts as its generations go by, or merely varies.
 *
 *   self-starting EWMA of the values after the settled generations, or Mann-Kendall over all but the fresh
 *
 * @param values  in any order; generation [-] whole, value [any unit] finite
 * @param options  settled, the generations that set the limits (2 to 5); otherLines, settled values of
 *   other lines of the strain, one list a line, which lend their spread and not their level
 * @returns the state, since when and which way, the evidence in words, and every point with its role
 * @throws RangeError for a value that is not finite
 *
 * Values before the settled generations are shown, set no limits and are never drift. Source: own
 * rule; baseline from settled generations after [Speers2003] and [HammondWenn1985].
 */
export function lineDrift(
  values: readonly LineValue[],
  options: {
    settled?: { from: number; to: number };
    otherLines?: readonly (readonly number[])[];
  } = {},
): LineDrift {
  const { settled = SETTLED_GENERATIONS, otherLines = [] } = options;
  for (const { value } of values) {
    if (!Number.isFinite(value)) refuse('lineDrift', 'value must be finite', value);
  }
  const ordered = values.toSorted((a, b) => a.generation - b.generation);
  const baseline = ordered.filter(
    ({ generation }) => generation >= settled.from && generation <= settled.to,
  );
  const judged = ordered.filter(({ generation }) => generation > settled.to);
  const known = spreadOf(otherLines);
  const own = spreadOf([baseline.map(({ value }) => value)]);
  const hasSpread = own.squares + known.squares > 0;
  const isReady = baseline.length >= SETTLED_VALUES_NEEDED && hasSpread;
  const ewma = isReady ? ewmaOf(baseline, judged, known) : { points: [], runBegan: undefined };
  const points = ordered.map((point, i) => {
    const place = i - (ordered.length - judged.length);
    const role = place >= 0 ? 'judged' : point.generation < settled.from ? 'fresh' : 'baseline';
    return { ...point, role, ewma: ewma.points[place] } as const;
  });
  const centre =
    baseline.length > 0
      ? baseline.reduce((sum, { value }) => sum + value, 0) / baseline.length
      : undefined;
  const none = { since: undefined, direction: undefined, centre, points };
  if (judged.length === 0) {
    const evidence = `no value after generation ${settled.to}, the last that sets the limits`;
    return { state: 'settling', ...none, evidence };
  }
  if (!isReady) {
    const evidence = `${baseline.length} values in generations ${settled.from} to ${settled.to}; ${SETTLED_VALUES_NEEDED} that differ are needed`;
    return { state: 'too few', ...none, evidence };
  }
  const drift = driftByAverage(judged, ewma) ?? driftByTrend([...baseline, ...judged]);
  if (drift) return { state: 'drifting', ...drift, centre, points };
  return { state: 'steady', ...none, evidence: `${judged.length} later values within the limits` };
}

type Ewma = ReturnType<typeof selfStartingEwma>;
type Drift = Pick<LineDrift, 'since' | 'direction' | 'evidence'>;

const ewmaOf = (baseline: LineValue[], judged: LineValue[], known: KnownSpread): Ewma =>
  selfStartingEwma(
    baseline.map(({ value }) => value),
    judged.map(({ value }) => value),
    known,
  );

function spreadOf(lines: readonly (readonly number[])[]): KnownSpread {
  const spread = { squares: 0, degreesOfFreedom: 0 };
  for (const line of lines) {
    if (line.length < 2) continue;
    spread.degreesOfFreedom += line.length - 1;
    if (isFlat(line)) continue;
    const mean = line.reduce((sum, value) => sum + value, 0) / line.length;
    spread.squares += line.reduce((sum, value) => sum + (value - mean) ** 2, 0);
  }
  return spread;
}

/** Values that differ only by the rounding of the sums they came from show no spread. */
const FLAT_WITHIN = 1e-9;
const isFlat = (values: readonly number[]) =>
  Math.max(...values) - Math.min(...values) <= FLAT_WITHIN * Math.max(...values.map(Math.abs));

function driftByAverage(judged: readonly LineValue[], { points, runBegan }: Ewma) {
  const last = points.at(-1);
  if (last === undefined || runBegan === undefined) return undefined;
  const since = judged[runBegan]?.generation;
  const direction = last.ewma > 0 ? 'higher' : 'lower';
  const score = Math.abs(last.ewma).toFixed(2);
  const evidence = `moving average ${direction} by ${score} standard deviations, limit ${last.limit.toFixed(2)}`;
  return { since, direction, evidence } satisfies Drift;
}

function driftByTrend(settledOn: readonly LineValue[]) {
  if (settledOn.length < TREND_IS_DRIFT.fromValues) return undefined;
  const { pValue, tau } = mannKendall(settledOn.map(({ value }) => value));
  if (!(pValue < TREND_IS_DRIFT.belowP)) return undefined;
  const direction = tau > 0 ? 'higher' : 'lower';
  const evidence = `steady trend ${direction}, Mann-Kendall tau ${tau.toFixed(2)}, chance ${pValue.toFixed(4)}`;
  return { since: settledOn[0]?.generation, direction, evidence } satisfies Drift;
}
