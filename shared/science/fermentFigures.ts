import { derivedEstimate, type Estimate } from './deltaMethod.ts';
import {
  type FermentShape,
  greatestRate,
  hoursToGravity,
  tangentHours,
} from './fermentLogistic.ts';

/** Each is absent where it does not apply or was not seen. */
export type FermentFigures = {
  /** Where the steepest tangent meets the starting plateau. */
  lagHours?: Estimate | undefined;
  /** To the first fall of two degrees from the original gravity (else from the starting plateau). */
  plainLagHours?: Estimate | undefined;
  /** To half way from the original gravity (else the starting plateau) to the end gravity. */
  halfTimeHours?: Estimate | undefined;
  greatestRateDegreesPerHour?: Estimate | undefined;
  hours1040to1020?: Estimate | undefined;
  timeToWithinOneDegreeHours?: Estimate | undefined;
  endGravitySg?: Estimate | undefined;
};

/** Fall that ends the plain lag, in degrees: from memory, a convention. */
export const PLAIN_LAG_DEGREES = 2;

type Figure = (shape: FermentShape, fromDegrees: number) => number | undefined;

const figures: Record<keyof FermentFigures, Figure> = {
  lagHours: (shape) => tangentHours(shape).lagHours,
  plainLagHours: (shape, from) => hoursAfterPitch(shape, from - PLAIN_LAG_DEGREES),
  halfTimeHours: (shape, from) => hoursAfterPitch(shape, (from + shape.end) / 2),
  greatestRateDegreesPerHour: greatestRate,
  hours1040to1020: (shape) => {
    const from = hoursAfterPitch(shape, 40);
    const to = hoursAfterPitch(shape, 20);
    return from === undefined || to === undefined ? undefined : to - from;
  },
  timeToWithinOneDegreeHours: (shape) => hoursAfterPitch(shape, shape.end + 1),
  endGravitySg: (shape) => 1 + shape.end / 1000,
};

/**
 * The figures of a fitted ferment, each with its standard error by the delta method.
 *
 * @param shapeOf  curve in excess degrees [degrees, h, 1/h] from fitted parameters
 * @param parameters  fitted values
 * @param covariance  their covariance
 * @param originalDegrees  original gravity [degrees] where measured, taken as exact
 * @returns the figures that apply; times are hours since the pitch
 *
 * Times before the pitch are left out. Source: derived from the curve; half-attenuation time as used
 * in [Gabriel2008], hours from 1040 to 1020 as used in [Kara1988].
 */
export function fermentFigures(
  shapeOf: (parameters: readonly number[]) => FermentShape,
  parameters: readonly number[],
  covariance: readonly (readonly number[])[],
  originalDegrees?: number,
): FermentFigures {
  const found: FermentFigures = {};
  for (const name of figureNames) {
    const figure = (p: readonly number[]) => {
      const shape = shapeOf(p);
      return figures[name](shape, originalDegrees ?? shape.initial);
    };
    const estimate = derivedEstimate(figure, parameters, covariance);
    if (estimate !== undefined) found[name] = estimate;
  }
  return found;
}

const figureNames = [
  'lagHours',
  'plainLagHours',
  'halfTimeHours',
  'greatestRateDegreesPerHour',
  'hours1040to1020',
  'timeToWithinOneDegreeHours',
  'endGravitySg',
] as const;

function hoursAfterPitch(shape: FermentShape, level: number): number | undefined {
  const hours = hoursToGravity(shape, level);
  return hours !== undefined && hours >= 0 ? hours : undefined;
}
