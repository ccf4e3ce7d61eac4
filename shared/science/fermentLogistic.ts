import { requirePositive } from './refusal.ts';

/** A falling gravity curve. Gravity in any one unit; asymmetry 1 is the plain logistic. */
export type FermentShape = {
  initial: number;
  end: number;
  /** Hours at which half of the fall from `initial` to `end` is done, whatever the asymmetry. */
  midpointHours: number;
  ratePerHour: number;
  asymmetry: number;
};

/** Remembered span of ale ferments at 18 to 21 C: bounds of good sense only, from memory. */
export const PLAUSIBLE_MIDPOINT_HOURS = { from: 20, to: 36 } as const;
export const PLAUSIBLE_RATE_PER_HOUR = { from: 0.06, to: 0.15 } as const;

/**
 * Gravity on the falling logistic at a time.
 *
 *   P(t) = Pe + (Pi - Pe) / (1 + exp(b(t - M) + c))^s,  c = ln(2^(1/s) - 1)
 *
 * @param shape  asymptotes Pi and Pe [any gravity unit], M [h], b [1/h] > 0, s [-] > 0
 * @param hours  time since pitching [h]
 * @returns gravity in the unit of the asymptotes
 * @throws RangeError when b or s is not > 0
 *
 * With s = 1 it is Pe + (Pi - Pe) / (1 + exp(b(t - M))). P(0) is not Pi. The constant c keeps M the
 * half-way time in the asymmetric form. Source: [ASBCYeast14]; [Speers2003]; [Reid2021].
 */
export function gravityOnCurve(shape: FermentShape, hours: number): number {
  const z = shape.ratePerHour * (hours - shape.midpointHours) + offset(shape);
  const softPlus = z > 0 ? z + Math.log1p(Math.exp(-z)) : Math.log1p(Math.exp(z));
  return shape.end + (shape.initial - shape.end) * Math.exp(-shape.asymmetry * softPlus);
}

/**
 * Time at which the curve reaches a gravity.
 *
 *   t = M + (ln((1 - x)^(-1/s) - 1) - c) / b with x = (Pi - P) / (Pi - Pe)
 *
 * @param shape  the curve, as above
 * @param level  gravity in the unit of the asymptotes
 * @returns hours since pitching [h], or undefined when the level is not between the asymptotes
 * @throws RangeError when b or s is not > 0
 *
 * Source: derived from the curve; with s = 1 it is M + ln(x / (1 - x)) / b.
 */
export function hoursToGravity(shape: FermentShape, level: number): number | undefined {
  const share = (shape.initial - level) / (shape.initial - shape.end);
  if (!(share > 0 && share < 1)) return undefined;
  const z = Math.log((1 - share) ** (-1 / shape.asymmetry) - 1);
  return shape.midpointHours + (z - offset(shape)) / shape.ratePerHour;
}

/**
 * Greatest rate of fall of the curve.
 *
 *   b (Pi - Pe) (s / (1 + s))^(s + 1), at z = -ln s; with s = 1 it is b (Pi - Pe) / 4 at M
 *
 * @param shape  the curve, as above
 * @returns fall of gravity [unit/h], > 0 while the curve falls
 * @throws RangeError when b or s is not > 0
 *
 * Source: derived from the curve.
 */
export function greatestRate(shape: FermentShape): number {
  requireFalling(shape);
  const s = shape.asymmetry;
  return shape.ratePerHour * (shape.initial - shape.end) * (s / (1 + s)) ** (s + 1);
}

/**
 * Where the tangent at the steepest point meets the two asymptotes: end of the lag and end of the fall.
 *
 *   lag = tm - (Pi - P(tm)) / rate, end = tm + (P(tm) - Pe) / rate; with s = 1, M -+ 2 / b
 *
 * @param shape  the curve, as above
 * @returns both times since pitching [h]; the lag is negative when the fall began at once
 * @throws RangeError when b or s is not > 0
 *
 * Source: derived from the curve.
 */
export function tangentHours(shape: FermentShape): { lagHours: number; endHours: number } {
  const rate = greatestRate(shape);
  const steepest =
    shape.midpointHours - (Math.log(shape.asymmetry) + offset(shape)) / shape.ratePerHour;
  const gravity = gravityOnCurve(shape, steepest);
  return {
    lagHours: steepest - (shape.initial - gravity) / rate,
    endHours: steepest + (gravity - shape.end) / rate,
  };
}

function offset(shape: FermentShape): number {
  requireFalling(shape);
  return Math.log(2 ** (1 / shape.asymmetry) - 1);
}

function requireFalling({ ratePerHour, asymmetry }: FermentShape): void {
  requirePositive('fermentLogistic', 'ratePerHour', ratePerHour);
  requirePositive('fermentLogistic', 'asymmetry', asymmetry);
}
