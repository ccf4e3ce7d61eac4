import * as z from 'zod/mini';
import { quantity, text, whole } from '#shared/fields.ts';

const filling = z.strictObject({
  squares: z
    .array(whole('Cells in a square', { min: 0, max: 10_000 }), { error: 'Squares must be a list' })
    .check(
      z.minLength(1, { error: 'Count one square at least' }),
      z.maxLength(400, { error: 'At most 400 squares in one filling' }),
    ),
  /** Total dilution: parts final to parts sample; for a weighed sample, mL final per gram. */
  dilutionFactor: quantity('Dilution factor', '(1 is undiluted)', { min: 1, max: 1e7 }),
  /** Which independent dilution this filling was drawn from, counted from 1. */
  dilution: whole('Dilution', { min: 1, max: 20 }),
});

/** The facts of a chamber count, of yeast in store or of beer in the FV. */
export const chamberCount = {
  chamber: text('Chamber', 60),
  squareAreaMm2: quantity('Area of a square', 'mm²', { min: 1e-6, max: 100 }),
  depthMm: quantity('Depth', 'mm', { min: 1e-3, max: 5 }),
  pipettingSteps: whole('Pipetting steps', { min: 0, max: 10 }),
  diluent: z.optional(text('Diluent', 60)),
  fillings: z
    .array(filling, { error: 'Fillings must be a list' })
    .check(
      z.minLength(1, { error: 'Count one side of the slide at least' }),
      z.maxLength(20, { error: 'At most 20 fillings in one count' }),
    ),
};
