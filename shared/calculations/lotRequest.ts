import * as z from 'zod/mini';
import { choice, quantity, tempC, whole } from '#shared/fields.ts';
import { densityFallbacks } from '#shared/science/densityFallbacks.ts';
import { stainNames } from '#shared/science/stains.ts';
import { CELLS_TO_STAIN } from '#shared/science/viability.ts';
import { countRequest } from './countCalculation.ts';

/** Fewer cells than these in a mL or g are no pitching yeast. */
const LEAST_CELLS = 1e4;

const cells = (label: string, unit: string) =>
  z.optional(quantity(label, unit, { min: LEAST_CELLS, max: 1e12 }));
const optionalAmount = (label: string, unit: string) =>
  z.optional(quantity(label, unit, { min: 0, max: 20_000 }));
const fallbackIds = densityFallbacks.map(({ id }) => id);

/** A lot as anyone may describe it, from the best evidence to none. */
export const lotFields = {
  id: z.optional(z.string().check(z.maxLength(80, { error: 'id may hold 80 characters' }))),
  cellsPerMl: cells('Cells per mL', 'cells/mL'),
  cellsPerG: cells('Cells per g', 'cells/g'),
  /** Half width of the 95 % range of the concentration, as a fraction of it. */
  relativeError: z.optional(quantity('Relative error', 'as a fraction', { min: 0, max: 3 })),
  /** The count behind the concentration; its fillings need no concentration beside them. */
  count: z.optional(countRequest),
  /** What kind of yeast it is, when nobody counted it. */
  fallback: z.optional(
    z.string().check(
      z.maxLength(80, { error: 'fallback may hold 80 characters' }),
      z.refine((id) => fallbackIds.includes(id), {
        error: `fallback must be one of: ${fallbackIds.join(', ')}`,
      }),
    ),
  ),
  spunPercent: z.optional(quantity('Yeast layer after spinning', '%', { min: 0.1, max: 100 })),
  /** Under a hundredth of a percent nothing can be reckoned with. */
  viabilityPercent: z.optional(quantity('Viability', '%', { min: 0.01, max: 100 })),
  live: z.optional(whole('Live cells', { min: 0, max: 1_000_000 })),
  dead: z.optional(whole('Dead cells', { min: 0, max: 1_000_000 })),
  stain: z.optional(choice('Stain', stainNames)),
  hoursSince: z.optional(quantity('Hours since the stain', 'hours', { min: 0, max: 2_000 })),
  tempC: z.optional(tempC),
  /** Found over promised in the FV, and the logSd of that, to be taken into the sum. */
  slurryCorrection: z.optional(
    z.strictObject({
      ratio: quantity('Ratio', '', { min: 0.1, max: 10 }),
      logSd: quantity('logSd', '', { min: 0, max: 2 }),
    }),
  ),
  availableL: optionalAmount('Amount left', 'litres'),
  availableKg: optionalAmount('Amount left', 'kilograms'),
  useL: optionalAmount('Amount fixed', 'litres'),
  useKg: optionalAmount('Amount fixed', 'kilograms'),
} as const;

const lotRequest = z.strictObject(lotFields);
export type LotRequest = z.output<typeof lotRequest>;

/** Taken when nothing is said of how a figure was come by; stated in the warnings. */
export const assumed = {
  relativeError: 0.3,
  stainedCells: CELLS_TO_STAIN / 2,
  storeTempC: 4,
} as const;

/** What the lot is measured in: a count per g goes with a weight. */
export function unitOf({ cellsPerG, fallback }: LotRequest): 'L' | 'kg' {
  const guess = densityFallbacks.find(({ id }) => id === fallback);
  return cellsPerG !== undefined || guess?.unit === 'g' ? 'kg' : 'L';
}
