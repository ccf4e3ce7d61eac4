import * as z from 'zod/mini';
import { choice, quantity, tempC, whole } from '#shared/fields.ts';
import { cellConcentration } from '#shared/science/cellCount.ts';
import {
  cellsPerMlFromSpunSolids,
  densityFallbacks,
  logSdFromRange,
} from '#shared/science/densityFallbacks.ts';
import type { PitchLot } from '#shared/science/lotContribution.ts';
import { normalQuantile } from '#shared/science/normal.ts';
import { stainNames } from '#shared/science/stains.ts';
import { survivalAfter } from '#shared/science/storage.ts';
import { unstained, unstainedLogSd } from '#shared/science/unstained.ts';
import { CELLS_TO_STAIN, viabilityFromStain } from '#shared/science/viability.ts';
import { countRequest } from './countCalculation.ts';

/** Fewer cells than these in a mL or g are no pitching yeast. */
const LEAST_CELLS = 1e4;
/** A share so small that the lot is dead for all purposes [-]. */
const DEAD_BELOW = 1e-3;

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
  viabilityPercent: z.optional(quantity('Viability', '%', { above: 0, max: 100 })),
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

type LotFault = { field: string; message: string };

/** What is wrong with a lot that the single fields cannot tell. */
export function lotFaults(given: LotRequest): LotFault[] {
  return [...concentrationFaults(given), ...viabilityFaults(given), ...amountFaults(given)];
}

function concentrationFaults(given: LotRequest): LotFault[] {
  const { cellsPerMl, cellsPerG, count, fallback, spunPercent, relativeError } = given;
  const stated = [cellsPerMl, cellsPerG].filter((each) => each !== undefined).length;
  const guessed = [fallback, spunPercent].filter((each) => each !== undefined).length;
  const faults: LotFault[] = [];
  if (stated === 2)
    faults.push({ field: 'cellsPerG', message: 'Give cellsPerMl or cellsPerG, not both' });
  if (stated === 0 && guessed === 0 && count === undefined)
    faults.push({
      field: 'cellsPerMl',
      message:
        'Give cells per mL, cells per g, or the count behind it; failing these, fallback or spunPercent',
    });
  if (guessed > 0 && (guessed === 2 || stated > 0 || count !== undefined))
    faults.push({
      field: fallback === undefined ? 'spunPercent' : 'fallback',
      message: 'A guess stands in for a count: give one or the other',
    });
  if (count !== undefined && relativeError !== undefined)
    faults.push({
      field: 'relativeError',
      message: 'Give the count or a relative error, not both',
    });
  if (count !== undefined && cellsSeen(count) === 0)
    faults.push({
      field: 'count',
      message: 'No cell was found in the count: dilute less and count again before pitching by it',
    });
  return faults;
}

const cellsSeen = (count: NonNullable<LotRequest['count']>) =>
  (count.fillings?.flatMap(({ squares }) => squares) ?? count.squares ?? []).reduce(
    (sum, cellsInSquare) => sum + cellsInSquare,
    0,
  );

function viabilityFaults(given: LotRequest): LotFault[] {
  const { live, dead, viabilityPercent, tempC: storeTempC, hoursSince } = given;
  const isStained = live !== undefined || dead !== undefined;
  const faults: LotFault[] = [];
  if (isStained && viabilityPercent !== undefined)
    faults.push({
      field: 'viabilityPercent',
      message: 'Give the viability as viabilityPercent, or as live and dead',
    });
  if (isStained && (live ?? 0) === 0)
    faults.push({ field: 'live', message: 'No living cell was seen: do not pitch it' });
  if (storeTempC !== undefined && hoursSince === undefined)
    faults.push({
      field: 'hoursSince',
      message: 'A store temperature needs the hours since the stain',
    });
  const { survival = 1 } = storageLoss(given);
  if (survival < DEAD_BELOW)
    faults.push({
      field: 'hoursSince',
      message:
        'So long at that temperature leaves no living cell by any reckoning: do not pitch it',
    });
  return faults;
}

function amountFaults(given: LotRequest): LotFault[] {
  const isWeighed = unitOf(given) === 'kg';
  const wrongUnit = isWeighed
    ? (given.availableL ?? given.useL)
    : (given.availableKg ?? given.useKg);
  if (wrongUnit === undefined) return [];
  return isWeighed
    ? [{ field: 'availableKg', message: 'A lot with cells per g is measured in kilograms' }]
    : [{ field: 'availableL', message: 'A lot with cells per mL is measured in litres' }];
}

export function unitOf({ cellsPerG, fallback }: LotRequest): 'L' | 'kg' {
  const guess = densityFallbacks.find(({ id }) => id === fallback);
  return cellsPerG !== undefined || guess?.unit === 'g' ? 'kg' : 'L';
}

/** A lot as the sums take it, with what was taken for granted in plain sentences. */
export function knownLot(given: LotRequest): { lot: PitchLot; warnings: string[] } {
  const concentration = knownConcentration(given);
  const viability = knownViability(given);
  const unit = unitOf(given);
  const { ratio, logSd } = given.slurryCorrection ?? { ratio: 1, logSd: 0 };
  return {
    lot: {
      id: given.id,
      unit,
      [unit === 'L' ? 'cellsPerMl' : 'cellsPerG']: concentration.cells * ratio,
      concentrationLogSd: Math.hypot(concentration.logSd, logSd),
      counted: given.count !== undefined,
      ...viability.known,
      ...storageLoss(given),
      available: unit === 'L' ? given.availableL : given.availableKg,
      use: unit === 'L' ? given.useL : given.useKg,
    },
    warnings: [...concentration.warnings, ...viability.warnings],
  };
}

type Concentration = { cells: number; logSd: number; warnings: string[] };

function knownConcentration(given: LotRequest): Concentration {
  const stated = given.cellsPerMl ?? given.cellsPerG;
  if (given.count !== undefined) {
    const { fillings, squares, dilutionFactor, ...chamber } = given.count;
    const found = cellConcentration({
      ...chamber,
      fillings: fillings ?? [{ squares: squares ?? [], dilutionFactor: dilutionFactor ?? 1 }],
    });
    return { cells: stated ?? found.cellsPerMl, logSd: found.logSd ?? 1, warnings: [] };
  }
  if (given.spunPercent !== undefined) {
    const { cellsPerMl, logSd } = cellsPerMlFromSpunSolids(given.spunPercent);
    const warning =
      'Spun solids are a rough guess of the cells, and trub reads as yeast: count it.';
    return { cells: cellsPerMl, logSd, warnings: [warning] };
  }
  const guess = densityFallbacks.find(({ id }) => id === given.fallback);
  if (guess !== undefined) {
    const warning = `Nobody counted it: taken for ${guess.name.toLowerCase()} (${guess.source}). Count it.`;
    return { cells: guess.central, logSd: logSdFromRange(guess), warnings: [warning] };
  }
  const { relativeError } = given;
  return {
    cells: stated ?? 0,
    logSd: Math.log1p(relativeError ?? assumed.relativeError) / Z_95,
    warnings:
      relativeError === undefined
        ? [
            `Nothing is said of how sure the cells are: ± ${100 * assumed.relativeError} % is assumed.`,
          ]
        : [],
  };
}

const Z_95 = normalQuantile(0.975);

type LotViability = Pick<PitchLot, 'viability' | 'viabilityLogSd' | 'viabilityAtMost'>;

function knownViability(given: LotRequest): { known: LotViability; warnings: string[] } {
  const warnings: string[] = [];
  if (given.live === undefined && given.viabilityPercent === undefined)
    return {
      known: { viability: unstained.percent / 100, viabilityLogSd: unstainedLogSd },
      warnings: [
        `Nobody stained it: ${unstained.percent} % alive is taken, ${unstained.low} to ${unstained.high} %. A guess, no source: stain it.`,
      ],
    };
  const reading = stainReading(given);
  if (given.live === undefined)
    warnings.push(
      `The viability is taken as read from ${assumed.stainedCells} cells; give live and dead for its true range.`,
    );
  const found = viabilityFromStain(reading);
  const viabilityAtMost = found.validity === 'at or below';
  if (viabilityAtMost)
    warnings.push(
      `Below ${found.floorPercent} % a stain reads too high: no more than this is alive, and maybe much less. The amount is the least it can be, without an upper end. Better not pitch it.`,
    );
  return {
    known: {
      viability: (given.viabilityPercent ?? found.percent) / 100,
      viabilityLogSd: Math.log(found.high / found.low) / (2 * Z_95),
      viabilityAtMost,
    },
    warnings,
  };
}

/** Live and dead as counted, or as a plain percentage would have been read. */
export function stainReading({ live, dead = 0, viabilityPercent, stain = 'other' }: LotRequest) {
  if (live !== undefined) return { live, dead, stain };
  const cellsAlive = ((viabilityPercent ?? 100) / 100) * assumed.stainedCells;
  const taken = Math.max(1, Math.round(cellsAlive));
  return { live: taken, dead: assumed.stainedCells - taken, stain };
}

function storageLoss({ hoursSince, tempC: storeTempC }: LotRequest) {
  if (hoursSince === undefined) return {};
  const { fraction, logSd } = survivalAfter([
    { hours: hoursSince, tempC: storeTempC ?? assumed.storeTempC },
  ]);
  return { survival: fraction, survivalLogSd: logSd };
}
