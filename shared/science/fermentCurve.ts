import { studentTUpperTail } from './betaFunctions.ts';
import type { Estimate } from './deltaMethod.ts';
import { fermentCrossings } from './fermentCrossings.ts';
import { type FermentFigures, fermentFigures } from './fermentFigures.ts';
import { gravityOnCurve } from './fermentLogistic.ts';
import { type GravityReading, orderedReadings, type ReadingNote } from './fermentReadings.ts';
import { fitShape, type ShapeFit } from './fermentShapeFit.ts';
import { excessDegreesFromSg } from './gravity.ts';

export type FittedFerment = {
  kind: 'fitted';
  form: 'symmetric' | 'asymmetric';
  converged: true;
  /** Plateaus in SG, midpoint in hours, rate per hour, asymmetry 1 for the symmetric form. */
  parameters: {
    initialGravitySg: Estimate;
    endGravitySg: Estimate;
    midpointHours: Estimate;
    ratePerHour: Estimate;
    asymmetry: Estimate;
  };
  residualSdDegrees: number;
  rSquared: number;
  derived: FermentFigures;
  notes: ReadingNote[];
};

type CrossedFerment = {
  kind: 'crossings';
  converged: false;
  why: string;
  derived: FermentFigures;
  notes: ReadingNote[];
};

export type FermentCurve = FittedFerment | CrossedFerment;

/** Fewest readings, and least fall they must span, for a curve: the number from memory. */
const CURVE_NEEDS = { readings: 6, fallDegrees: 5 } as const;

/** The asymmetric form is taken below this chance of so much better a fit under the symmetric one. */
const ASYMMETRIC_BELOW_P = 0.01;

/**
 * Falling curve through the gravities of one ferment, or its crossing times where they are too few.
 *
 *   P(t) = Pe + (Pi - Pe) / (1 + exp(b(t - M))) in excess degrees; asymmetric where it clearly fits better
 *
 * @param readings  hours since the pitch [h] and gravity [SG], in any order and as written down
 * @param options  originalGravitySg, the gravity at collection [SG], read as a reading at hour 0 when
 *   there is none within the first hour
 * @returns the fitted curve with standard errors, or the crossing times and why there is no curve
 *
 * Asked for: six readings over a fall of five degrees that has begun to slow. The asymmetric form needs
 * F(1, n - 5) with p < 0.01 and AICc lower by 2. Source: [ASBCYeast14]; [Speers2003]; [Reid2021].
 */
export function fitFermentCurve(
  readings: readonly GravityReading[],
  options: { originalGravitySg?: number } = {},
): FermentCurve {
  const { originalGravitySg } = options;
  const { readings: ordered, notes } = orderedReadings(readings);
  const anchored = withOriginalGravity(ordered, originalGravitySg);
  const crossings = (why: string): CrossedFerment => {
    const derived = fermentCrossings(anchored, originalGravitySg);
    return { kind: 'crossings', converged: false, why, derived, notes };
  };
  const lack = whatIsLacking(anchored);
  if (lack !== undefined) return crossings(lack);
  const symmetric = fitShape(anchored, false);
  if (symmetric === undefined) return crossings('the readings do not settle a curve');
  const asymmetric = anchored.length >= 8 ? fitShape(anchored, true) : undefined;
  const chosen = asymmetric && isClearlyBetter(symmetric, asymmetric) ? asymmetric : symmetric;
  const original =
    originalGravitySg === undefined ? undefined : excessDegreesFromSg(originalGravitySg);
  const { shapeOf, fit } = chosen;
  return {
    kind: 'fitted',
    form: chosen === symmetric ? 'symmetric' : 'asymmetric',
    converged: true,
    parameters: chosen.estimates,
    residualSdDegrees: fit.residualSd,
    rSquared: fit.rSquared,
    derived: fermentFigures(shapeOf, fit.parameters, fit.covariance, original),
    notes,
  };
}

/**
 * Gravity of a fitted ferment at a time.
 *
 * @param curve  as `fitFermentCurve` returns it
 * @param hours  time since the pitch [h]
 * @returns gravity [SG]
 *
 * Source: [ASBCYeast14].
 */
export function fittedGravitySg({ parameters }: FittedFerment, hours: number): number {
  return gravityOnCurve(
    {
      initial: parameters.initialGravitySg.value,
      end: parameters.endGravitySg.value,
      midpointHours: parameters.midpointHours.value,
      ratePerHour: parameters.ratePerHour.value,
      asymmetry: parameters.asymmetry.value,
    },
    hours,
  );
}

function withOriginalGravity(
  readings: readonly GravityReading[],
  originalGravitySg: number | undefined,
): readonly GravityReading[] {
  if (originalGravitySg === undefined || (readings[0]?.hours ?? Infinity) <= 1) return readings;
  return [{ hours: 0, gravitySg: originalGravitySg }, ...readings];
}

function whatIsLacking(readings: readonly GravityReading[]): string | undefined {
  const first = readings[0];
  const last = readings.at(-1);
  if (first === undefined || last === undefined || readings.length < CURVE_NEEDS.readings) {
    return `fewer than ${CURVE_NEEDS.readings} readings`;
  }
  const lowest = Math.min(...readings.map(({ gravitySg }) => gravitySg));
  if (!((first.gravitySg - lowest) * 1000 >= CURVE_NEEDS.fallDegrees)) {
    return `the readings span a fall of less than ${CURVE_NEEDS.fallDegrees} degrees`;
  }
  return undefined;
}

function isClearlyBetter(plain: ShapeFit, asymmetric: ShapeFit): boolean {
  const count = plain.fit.residuals.length;
  const spare = count - 5;
  const plainSum = plain.fit.residualSd ** 2 * (count - 4);
  const asymmetricSum = asymmetric.fit.residualSd ** 2 * spare;
  if (!(plainSum > asymmetricSum) || plain.fit.residualSd < 1e-6) return false;
  const t = Math.sqrt((plainSum - asymmetricSum) / (asymmetricSum / spare));
  // F(1, spare) is the square of Student's t: both of its tails.
  const pValue = 2 * studentTUpperTail(t, spare);
  return (
    pValue < ASYMMETRIC_BELOW_P && aicc(plainSum, count, 5) - aicc(asymmetricSum, count, 6) > 2
  );
}

/** Akaike's criterion for small samples; k counts the residual variance. */
function aicc(sumOfSquares: number, count: number, k: number): number {
  return count * Math.log(sumOfSquares / count) + 2 * k + (2 * k * (k + 1)) / (count - k - 1);
}
