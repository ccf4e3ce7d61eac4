import { crossingHours } from './crossingTimes.ts';
import type { Estimate } from './deltaMethod.ts';
import { type FermentShape, gravityOnCurve } from './fermentLogistic.ts';
import type { GravityReading } from './fermentReadings.ts';
import { excessDegreesFromSg } from './gravity.ts';
import { leastSquaresFit } from './leastSquares.ts';
import type { LeastSquaresFit } from './leastSquaresSummary.ts';
import { valueAt } from './valueAt.ts';

export type ShapeFit = {
  fit: LeastSquaresFit;
  shapeOf: (parameters: readonly number[]) => FermentShape;
  estimates: {
    initialGravitySg: Estimate;
    endGravitySg: Estimate;
    midpointHours: Estimate;
    ratePerHour: Estimate;
    asymmetry: Estimate;
  };
};

/** Beyond these standard errors the readings do not settle the curve: common sense, no source. */
const UNSETTLED = { shareOfFall: 0.25, shareOfRate: 0.75, lnAsymmetry: 2 } as const;

/**
 * Readings that settle a curve took at most 22 steps over 600 simulated ferments; those of a straight
 * line or of nothing never settle, and five hundred of them would be searched for seconds.
 */
const MOST_STEPS = 60;

/**
 * Least-squares fit of the falling curve in excess degrees, starting values found from the readings.
 *
 *   parameters Pi, Pe, M, ln b and, in the asymmetric form, ln s
 *
 * @param readings  by time, at least one more than there are parameters
 * @param isAsymmetric  whether s is free
 * @returns the first of three starts to settle on a falling curve, or undefined when none did
 * @throws RangeError with too few readings
 *
 * Logarithms keep b and s positive. Source: [ASBCYeast14]; [Reid2021].
 */
export function fitShape(
  readings: readonly GravityReading[],
  isAsymmetric: boolean,
): ShapeFit | undefined {
  const observed = readings.map(({ gravitySg }) => excessDegreesFromSg(gravitySg));
  for (const rateFactor of [1, 0.5, 2]) {
    const fit = leastSquaresFit({
      observed,
      predict: (p) => readings.map(({ hours }) => gravityOnCurve(shapeOf(p), hours)),
      start: startingValues(readings, rateFactor, isAsymmetric),
      maxIterations: MOST_STEPS,
    });
    if (isSettled(fit)) return { fit, shapeOf, estimates: estimatesOf(fit) };
  }
  return undefined;
}

function shapeOf(parameters: readonly number[]): FermentShape {
  const [initial = NaN, end = NaN, midpointHours = NaN, lnRate = NaN, lnAsymmetry = 0] = parameters;
  // Bounds far outside any beer, so that a wild trial step stays finite and is then rejected.
  const ratePerHour = Math.exp(Math.min(Math.max(lnRate, -20), 5));
  const asymmetry = Math.exp(Math.min(Math.max(lnAsymmetry, -5), 5));
  return { initial, end, midpointHours, ratePerHour, asymmetry };
}

function startingValues(
  readings: readonly GravityReading[],
  rateFactor: number,
  isAsymmetric: boolean,
): number[] {
  const gravities = readings.map(({ gravitySg }) => gravitySg);
  const high = Math.max(...gravities);
  const low = Math.min(...gravities);
  const lastHours = valueAt(readings, readings.length - 1).hours;
  const hoursAt = (share: number) => crossingHours(readings, high - share * (high - low));
  const half = hoursAt(0.5) ?? lastHours / 2;
  const quarters = (hoursAt(0.75) ?? lastHours) - (hoursAt(0.25) ?? 0);
  const rate = (rateFactor * 2 * Math.log(3)) / Math.max(quarters, 1);
  const start = [excessDegreesFromSg(high), excessDegreesFromSg(low), half, Math.log(rate)];
  return isAsymmetric ? [...start, 0] : start;
}

function isSettled({ converged, parameters, standardErrors }: LeastSquaresFit): boolean {
  const shape = shapeOf(parameters);
  const fall = shape.initial - shape.end;
  const [initialError = NaN, endError = NaN, , rateError = NaN, asymmetryError = 0] =
    standardErrors;
  return (
    converged &&
    fall > 0 &&
    Math.max(initialError, endError) < UNSETTLED.shareOfFall * fall &&
    rateError < UNSETTLED.shareOfRate &&
    asymmetryError < UNSETTLED.lnAsymmetry &&
    shape.initial < 200 &&
    shape.end > -50
  );
}

function estimatesOf({ parameters, standardErrors }: LeastSquaresFit): ShapeFit['estimates'] {
  const shape = shapeOf(parameters);
  const [initialError = NaN, endError = NaN, midError = NaN, rateError = NaN, sError] =
    standardErrors;
  const sg = (degrees: number, error: number) => ({
    value: 1 + degrees / 1000,
    standardError: error / 1000,
  });
  return {
    initialGravitySg: sg(shape.initial, initialError),
    endGravitySg: sg(shape.end, endError),
    midpointHours: { value: shape.midpointHours, standardError: midError },
    ratePerHour: { value: shape.ratePerHour, standardError: shape.ratePerHour * rateError },
    asymmetry:
      sError === undefined
        ? { value: 1 }
        : { value: shape.asymmetry, standardError: shape.asymmetry * sError },
  };
}
