import { hoursToProgress } from './fermentProgress.ts';
import type { GravityReading } from './fermentReadings.ts';
import { excessDegreesFromSg } from './gravity.ts';
import { degreesAt, type PlausibleFerment } from './plausibleFerments.ts';
import { requirePositive } from './refusal.ts';

type RunningFerment = Omit<PlausibleFerment, 'spare'> & { heldUpHours: number; belief: number };

/** Slow ferments kept in mind, each kind as likely as the next, spread evenly over its span: a judgement. */
const SLOW_FERMENTS = {
  stretched: { from: 1.15, to: 1.8 },
  stopsAtShareOfFall: { from: 0.3, to: 0.85 },
  heldUpHours: { from: 6, to: 30 },
} as const;

/** Share of ferments believed slow before any reading: a judgement. */
const SLOW_BELIEVED = 0.1;

/** Tails of a reading's error: Student's t on four degrees of freedom forgives one mad reading. */
const ERROR_DF = 4;

/** Hours, at 10, 50 and 90 % chance; undefined where the ferment may never get there. */
export type Forecast = Record<'low' | 'mid' | 'high', number | undefined>;

/**
 * Hours from the pitch at which a running ferment will reach a gravity.
 *
 *   chance of each ferment that could be ~ belief x product of t densities of its readings
 *
 * @param readings  by time, as `orderedReadings` gives them; may be empty
 * @param healthy  plausible healthy ferments, equally likely
 * @param targetSg  gravity sought [SG]
 * @param readingSdDegrees  error of a reading and of the curve together [degrees] > 0
 * @returns 10, 50 and 90 % points of the hour [h]
 * @throws RangeError outside the bounds above
 *
 * One ferment in ten is believed stretched, held up or about to stop before it is read. Source: own
 * model; weighting by likelihood [Gelman2013], 10.4.
 */
export function hoursToReach(
  readings: readonly GravityReading[],
  healthy: readonly PlausibleFerment[],
  targetSg: number,
  readingSdDegrees: number,
): Forecast {
  requirePositive('hoursToReach', 'readingSdDegrees', readingSdDegrees);
  const target = excessDegreesFromSg(targetSg);
  const read = readings.map(({ hours, gravitySg }) => ({
    hours,
    degrees: excessDegreesFromSg(gravitySg),
  }));
  const possible = healthy.flatMap((ferment, place) => [held(ferment), slowed(ferment, place)]);
  const logs = possible.map((ferment) => logLikelihood(ferment, read, readingSdDegrees));
  const greatest = logs.reduce((most, log) => Math.max(most, log), -Infinity);
  const weighted = possible.map((ferment, i) => {
    const share =
      (ferment.originalDegrees - target) / (ferment.originalDegrees - ferment.endDegrees);
    const hours = ferment.heldUpHours + hoursToProgress(ferment, share);
    return { hours, weight: ferment.belief * Math.exp((logs[i] ?? -Infinity) - greatest) };
  });
  return weightedPoints(weighted);
}

/** The three kinds of slow in turn, so that each is met at all paces. */
function slowed(ferment: PlausibleFerment, place: number): RunningFerment {
  const within = ({ from, to }: { from: number; to: number }) => from + (to - from) * ferment.spare;
  const change = { belief: SLOW_BELIEVED };
  if (place % 3 === 0) {
    return held(ferment, { ...change, heldUpHours: within(SLOW_FERMENTS.heldUpHours) });
  }
  if (place % 3 === 1) {
    return held(ferment, { ...change, shareOfFall: within(SLOW_FERMENTS.stopsAtShareOfFall) });
  }
  return held(ferment, { ...change, stretch: within(SLOW_FERMENTS.stretched) });
}

/** Written out field by field: one shape for all keeps the loop over thousands fast. */
function held(
  { halfTimeHours, ratePerHour, originalDegrees, endDegrees }: PlausibleFerment,
  { belief = 1 - SLOW_BELIEVED, heldUpHours = 0, shareOfFall = 1, stretch = 1 } = {},
): RunningFerment {
  return {
    halfTimeHours: halfTimeHours * stretch,
    ratePerHour: ratePerHour / stretch,
    originalDegrees,
    endDegrees: originalDegrees - shareOfFall * (originalDegrees - endDegrees),
    heldUpHours,
    belief,
  };
}

function logLikelihood(
  ferment: RunningFerment,
  read: readonly { hours: number; degrees: number }[],
  sd: number,
): number {
  let log = 0;
  for (const { hours, degrees } of read) {
    const z = (degrees - degreesAt(ferment, hours - ferment.heldUpHours)) / sd;
    log -= ((ERROR_DF + 1) / 2) * Math.log1p((z * z) / ERROR_DF);
  }
  return log;
}

function weightedPoints(weighted: { hours: number; weight: number }[]): Forecast {
  weighted.sort((a, b) => a.hours - b.hours);
  const total = weighted.reduce((sum, { weight }) => sum + weight, 0);
  const at = (share: number) => {
    let sum = 0;
    for (const { hours, weight } of weighted) {
      sum += weight;
      if (sum >= share * total) return hours === Infinity ? undefined : hours;
    }
    return undefined;
  };
  return { low: at(0.1), mid: at(0.5), high: at(0.9) };
}
