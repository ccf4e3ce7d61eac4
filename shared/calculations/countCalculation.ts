import * as z from 'zod/mini';
import { quantity, whole } from '#shared/fields.ts';
import {
  type CellConcentration,
  cellConcentration,
  cellsForTarget,
} from '#shared/science/cellCount.ts';
import { CHAMBER_CV, PIPETTING_CV } from '#shared/science/countSetup.ts';

const squares = z
  .array(whole('Cells in a square', { min: 0, max: 10_000 }), {
    error: 'squares must be a list of the cells counted in each square',
  })
  .check(
    z.minLength(1, { error: 'Count one square at least' }),
    z.maxLength(400, { error: 'At most 400 squares in one filling' }),
  );

const dilutionFactor = quantity(
  'Dilution factor (parts final to parts sample; 1 when undiluted)',
  '',
  {
    min: 1,
    max: 1e7,
  },
);

const filling = z.strictObject({
  squares,
  dilutionFactor,
  dilution: z.optional(whole('Dilution', { min: 0, max: 20 })),
});

const chamber = {
  squareAreaMm2: quantity('Area of a square', 'mm²', { min: 1e-6, max: 100 }),
  depthMm: quantity('Depth', 'mm', { min: 1e-3, max: 5 }),
  pipettingSteps: z.optional(whole('Pipetting steps', { min: 0, max: 10 })),
  chamberCv: z.optional(
    quantity('Spread of chamber filling', 'as a fraction', { min: 0, max: 0.5 }),
  ),
  pipettingCv: z.optional(
    quantity('Spread of a pipetting step', 'as a fraction', { min: 0, max: 0.5 }),
  ),
  targetRelativeHalfWidth: z.optional(
    quantity('Half width aimed at', 'as a fraction', { min: 0.005, max: 1 }),
  ),
};

/** Beyond this fillings are of no one sample; far beyond it the range would have no end. */
const MOST_SPREAD = 1000;

/** One filling as `squares` and `dilutionFactor`, or several as `fillings`. */
export const countRequest = z
  .strictObject({
    squares: z.optional(squares),
    dilutionFactor: z.optional(dilutionFactor),
    fillings: z.optional(
      z
        .array(filling, { error: 'fillings must be a list' })
        .check(
          z.minLength(1, { error: 'Give one filling at least' }),
          z.maxLength(20, { error: 'At most 20 fillings' }),
        ),
    ),
    ...chamber,
  })
  .check((context) => {
    const { squares, dilutionFactor, fillings } = context.value;
    const refuse = (path: string, message: string) =>
      context.issues.push({ code: 'custom', input: context.value, path: [path], message });
    if (fillings !== undefined) {
      if (squares !== undefined) refuse('squares', 'Give squares or fillings, not both');
      if (spreadOf(fillings) > MOST_SPREAD)
        refuse(
          'fillings',
          `Two fillings differ more than ${MOST_SPREAD}-fold: check their dilution factors`,
        );
      return;
    }
    if (squares === undefined) refuse('squares', 'Give the cells counted in each square');
    if (dilutionFactor === undefined)
      refuse('dilutionFactor', 'The dilution is missing: give its factor, 1 when undiluted');
  });

type CountRequest = z.output<typeof countRequest>;

/** How many times as dense the densest filling is as the thinnest, of those with cells. */
function spreadOf(fillings: NonNullable<CountRequest['fillings']>): number {
  const densities = fillings.flatMap(({ squares, dilutionFactor }) => {
    const cells = squares.reduce((sum, inSquare) => sum + inSquare, 0);
    return cells === 0 ? [] : (cells / squares.length) * dilutionFactor;
  });
  return densities.length === 0 ? 1 : Math.max(...densities) / Math.min(...densities);
}

type CountReply = Omit<CellConcentration, 'logSd' | 'dispersion' | 'sides'> & {
  logSd: number | null;
  dispersion: CellConcentration['dispersion'] | null;
  sides: CellConcentration['sides'] | null;
  /** The bare limits of the count, chance alone (exact Poisson). */
  countingOnly: { low: number; high: number };
  /** Cells still to count for the half width aimed at; null where none is, or counting alone cannot. */
  cellsStillToCount: number | null;
  warnings: string[];
};

/** What a count says: cells per mL with its 95 % range, and what to beware of. */
export function countCalculation(request: CountRequest): CountReply {
  const count = {
    fillings: request.fillings ?? [
      { squares: request.squares ?? [], dilutionFactor: request.dilutionFactor ?? 1 },
    ],
    squareAreaMm2: request.squareAreaMm2,
    depthMm: request.depthMm,
    pipettingSteps: request.pipettingSteps,
    errors: {
      chamberCv: request.chamberCv ?? CHAMBER_CV,
      pipettingCv: request.pipettingCv ?? PIPETTING_CV,
    },
  };
  const found = cellConcentration(count);
  const bare = cellConcentration({ ...count, countingOnly: true });
  return {
    ...found,
    logSd: found.logSd ?? null,
    dispersion: found.dispersion ?? null,
    sides: found.sides ?? null,
    countingOnly: { low: bare.low, high: bare.high },
    cellsStillToCount:
      request.targetRelativeHalfWidth === undefined
        ? null
        : (cellsForTarget({ ...count, targetRelativeHalfWidth: request.targetRelativeHalfWidth }) ??
          null),
    warnings: countWarnings(count, found),
  };
}

/**
 * Fewest cells worth a figure, and the most in one square that can be told apart; from memory of
 * ASBC Yeast-4: 75 in 1 mm², 48 in a square of 0.04 mm².
 */
const countLimits = { fewestCells: 75, mostPerMm2: 1200 } as const;

/** Above this no one counts undiluted [cells/mL]: 80 cells would lie in a square of 0.04 mm². */
const UNDILUTED_AT_MOST = 2e7;

type Counted = {
  fillings: readonly { squares: readonly number[]; dilutionFactor: number }[];
  squareAreaMm2: number;
};

/** What a technician should beware of in a count, in plain sentences. */
export function countWarnings(count: Counted, found: CellConcentration): string[] {
  const warnings: string[] = [];
  const fullest = Math.max(...count.fillings.flatMap(({ squares }) => squares));
  if (found.cellsCounted === 0)
    warnings.push('No cell was found: only an upper limit can be given. Dilute less.');
  else if (found.cellsCounted < countLimits.fewestCells)
    warnings.push(
      `Only ${found.cellsCounted} cells: count ${countLimits.fewestCells} at least, better 400.`,
    );
  if (fullest / count.squareAreaMm2 > countLimits.mostPerMm2)
    warnings.push(
      'The fullest square is crowded, and cells hide each other: dilute more, count again.',
    );
  if (found.dispersion?.clumped)
    warnings.push(
      `The squares differ more than chance allows (${chanceWords(found.dispersion.pValue)}): the yeast is clumped or badly mixed. Break the clumps in the dilution (0.5 % sulphuric acid or EDTA, never in a tube with a stain), mix, fill a fresh chamber and count again. Until then the range is widened.`,
    );
  if (found.sides?.disagree)
    warnings.push(
      `The two sides of the slide do not agree (${chanceWords(found.sides.pValue)}): clean it, mix the sample, fill both sides anew and count again.`,
    );
  if (
    count.fillings.every((part) => part.dilutionFactor === 1) &&
    found.cellsPerMl > UNDILUTED_AT_MOST
  )
    warnings.push('Was it really undiluted? If it was diluted, give the factor.');
  return warnings;
}

const chanceWords = (p: number) =>
  p < 0.001 ? 'less than 1 in 1000 by chance' : `p = ${p.toPrecision(2)}`;
