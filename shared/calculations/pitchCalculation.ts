import * as z from 'zod/mini';
import { choice, quantity, tempC, volumeL, whole } from '#shared/fields.ts';
import { cellConcentration } from '#shared/science/cellCount.ts';
import { platoFromSg } from '#shared/science/gravity.ts';
import type { PitchLot } from '#shared/science/lotContribution.ts';
import { normalQuantile } from '#shared/science/normal.ts';
import { type PitchPlan, pitchPlan } from '#shared/science/pitch.ts';
import { stainNames } from '#shared/science/stains.ts';
import { survivalAfter } from '#shared/science/storage.ts';
import { viabilityFromStain } from '#shared/science/viability.ts';
import { weakYeastVerdict } from '#shared/science/weakYeast.ts';
import { countRequest } from './countCalculation.ts';
import { sgOf } from './gravityField.ts';

const cells = (label: string, unit: string) =>
  z.optional(quantity(label, unit, { above: 0, max: 1e12 }));
const optionalAmount = (label: string, unit: string) =>
  z.optional(quantity(label, unit, { min: 0, max: 20_000 }));

const lot = z.strictObject({
  id: z.optional(z.string().check(z.maxLength(80, { error: 'id may hold 80 characters' }))),
  cellsPerMl: cells('Cells per mL', 'cells/mL'),
  cellsPerG: cells('Cells per g', 'cells/g'),
  /** Half width of the 95 % range of the concentration, as a fraction of it. */
  relativeError: z.optional(quantity('Relative error', 'as a fraction', { min: 0, max: 3 })),
  /** The count behind the concentration; its fillings need no concentration beside them. */
  count: z.optional(countRequest),
  viabilityPercent: z.optional(quantity('Viability', '%', { above: 0, max: 100 })),
  live: z.optional(whole('Live cells', { min: 0, max: 1_000_000 })),
  dead: z.optional(whole('Dead cells', { min: 0, max: 1_000_000 })),
  stain: z.optional(choice('Stain', stainNames)),
  hoursSince: z.optional(quantity('Hours since the stain', 'hours', { min: 0, max: 2_000 })),
  tempC: z.optional(tempC),
  availableL: optionalAmount('Amount left', 'litres'),
  availableKg: optionalAmount('Amount left', 'kilograms'),
  useL: optionalAmount('Amount fixed', 'litres'),
  useKg: optionalAmount('Amount fixed', 'kilograms'),
});

export const pitchRequest = z
  .strictObject({
    wort: z.strictObject({
      volumeL,
      gravitySg: z.optional(z.number({ error: 'gravitySg must be a number such as 1.040' })),
      gravityPlato: z.optional(quantity('Gravity', '°P', { above: 0, max: 40 })),
    }),
    rateMillionPerMlPerPlato: quantity('Pitching rate', 'million cells per mL per °P', {
      above: 0,
      max: 10,
    }),
    lots: z
      .array(lot, { error: 'lots must be a list' })
      .check(
        z.minLength(1, { error: 'Name one lot at least' }),
        z.maxLength(12, { error: 'At most 12 lots' }),
      ),
  })
  .check((context) => {
    const { wort, lots } = context.value;
    const refuse = (path: (string | number)[], message: string) =>
      context.issues.push({ code: 'custom', input: context.value, path, message });
    for (const { path, message } of [...wortFaults(wort), ...lots.flatMap(lotFaults)])
      refuse(path, message);
  });

export type PitchCalculationRequest = z.output<typeof pitchRequest>;
type LotRequest = z.output<typeof lot>;
type Fault = { path: (string | number)[]; message: string };

function wortFaults({ gravitySg, gravityPlato }: PitchCalculationRequest['wort']): Fault[] {
  const path = ['wort', 'gravitySg'];
  if ((gravitySg === undefined) === (gravityPlato === undefined))
    return [{ path, message: 'Give the gravity once: as gravitySg or as gravityPlato' }];
  if (gravitySg === undefined) return [];
  const reading = sgOf(gravitySg);
  if (reading.kind === 'unsure') return [{ path, message: reading.message }];
  return reading.gravitySg > 1.001
    ? []
    : [{ path, message: 'A wort has a gravity above 1.001: check the figure' }];
}

function lotFaults(given: LotRequest, index: number): Fault[] {
  const faults: Fault[] = [];
  const refuse = (field: string, message: string) =>
    faults.push({ path: ['lots', index, field], message });
  const isWeighed = given.cellsPerG !== undefined;
  if (isWeighed && given.cellsPerMl !== undefined)
    refuse('cellsPerG', 'Give cellsPerMl or cellsPerG, not both');
  if (!isWeighed && given.cellsPerMl === undefined && given.count === undefined)
    refuse('cellsPerMl', 'Give cells per mL, cells per g, or the count behind it');
  if (given.count !== undefined && given.relativeError !== undefined)
    refuse('relativeError', 'Give the count or a relative error, not both');
  const isStained = given.live !== undefined || given.dead !== undefined;
  if (isStained === (given.viabilityPercent !== undefined))
    refuse('viabilityPercent', 'Give the viability as viabilityPercent, or as live and dead');
  if (isStained && (given.live ?? 0) === 0)
    refuse('live', 'No living cell was seen: do not pitch it');
  const wrongUnit = isWeighed
    ? (given.availableL ?? given.useL)
    : (given.availableKg ?? given.useKg);
  if (wrongUnit !== undefined)
    refuse(
      isWeighed ? 'availableKg' : 'availableL',
      isWeighed
        ? 'A lot with cells per g is measured in kilograms'
        : 'A lot with cells per mL is measured in litres',
    );
  if (given.tempC !== undefined && given.hoursSince === undefined)
    refuse('hoursSince', 'A store temperature needs the hours since the stain');
  return faults;
}

/** Taken when nothing is said of how a figure was come by; stated in the warnings. */
export const assumed = { relativeError: 0.3, stainedCells: 200, storeTempC: 4 } as const;

export type PitchReply = Omit<PitchPlan, 'lots' | 'steps' | 'shortage'> & {
  gravityPlato: number;
  lots: (Omit<PitchPlan['lots'][number], 'leftAfter'> & {
    leftAfter: number | null;
    /** Whether the yeast is so weak that pitching more does not make up for it. */
    weak: ReturnType<typeof weakYeastVerdict>;
  })[];
  shortage: NonNullable<PitchPlan['shortage']> | null;
  why: PitchPlan['steps'];
  warnings: string[];
};

/** How much of which lot to pitch, how sure that is, and every step of the sum. */
export function pitchCalculation(request: PitchCalculationRequest): PitchReply {
  const gravityPlato = wortPlato(request.wort);
  const known = request.lots.map(knownLot);
  const { steps, shortage, lots, ...plan } = pitchPlan({
    wort: { volumeL: request.wort.volumeL, gravityPlato },
    rateMillionPerMlPerPlato: request.rateMillionPerMlPerPlato,
    lots: known.map(({ lot }) => lot),
  });
  return {
    ...plan,
    gravityPlato,
    lots: lots.map((amount, index) => ({
      ...amount,
      leftAfter: amount.leftAfter ?? null,
      weak: weakYeastVerdict(livingShare(known[index]?.lot)),
    })),
    shortage: shortage ?? null,
    why: steps,
    warnings: known.flatMap(({ warnings }) => warnings),
  };
}

const livingShare = (lot: PitchLot | undefined) => (lot?.viability ?? 1) * (lot?.survival ?? 1);

function wortPlato({ gravitySg, gravityPlato }: PitchCalculationRequest['wort']): number {
  if (gravitySg === undefined) return gravityPlato ?? 0;
  const reading = sgOf(gravitySg);
  return platoFromSg(reading.kind === 'ok' ? reading.gravitySg : gravitySg);
}

function knownLot(given: LotRequest): { lot: PitchLot; warnings: string[] } {
  const concentration = knownConcentration(given);
  const viability = knownViability(given);
  const unit = given.cellsPerG === undefined ? ('L' as const) : ('kg' as const);
  return {
    lot: {
      id: given.id,
      unit,
      [unit === 'L' ? 'cellsPerMl' : 'cellsPerG']: concentration.cells,
      concentrationLogSd: concentration.logSd,
      counted: given.count !== undefined,
      viability: viability.share,
      viabilityLogSd: viability.logSd,
      ...storageLoss(given),
      available: unit === 'L' ? given.availableL : given.availableKg,
      use: unit === 'L' ? given.useL : given.useKg,
    },
    warnings: [...concentration.warnings, ...viability.warnings],
  };
}

function knownConcentration(given: LotRequest) {
  const stated = given.cellsPerMl ?? given.cellsPerG;
  if (given.count === undefined) {
    const warnings =
      given.relativeError === undefined
        ? [
            `Nothing is said of how sure the cells are: ± ${100 * assumed.relativeError} % is assumed.`,
          ]
        : [];
    return {
      cells: stated ?? 0,
      logSd: Math.log1p(given.relativeError ?? assumed.relativeError) / Z_95,
      warnings,
    };
  }
  const { fillings, squares, dilutionFactor, ...chamber } = given.count;
  const found = cellConcentration({
    ...chamber,
    fillings: fillings ?? [{ squares: squares ?? [], dilutionFactor: dilutionFactor ?? 1 }],
  });
  return { cells: stated ?? found.cellsPerMl, logSd: found.logSd ?? 1, warnings: [] };
}

const Z_95 = normalQuantile(0.975);

function knownViability(given: LotRequest) {
  const warnings: string[] = [];
  const live = given.live ?? ((given.viabilityPercent ?? 100) / 100) * assumed.stainedCells;
  const dead = given.live === undefined ? assumed.stainedCells - live : (given.dead ?? 0);
  if (given.live === undefined)
    warnings.push(
      `The viability is taken as read from ${assumed.stainedCells} cells; give live and dead for its true range.`,
    );
  const found = viabilityFromStain({
    live: Math.round(live),
    dead: Math.round(dead),
    stain: given.stain ?? 'other',
  });
  if (found.validity === 'at or below')
    warnings.push(
      `Below ${found.floorPercent} % a stain reads too high: the true share alive may be much lower, and the amount needed higher. Better not pitch it.`,
    );
  return {
    share:
      given.viabilityPercent === undefined ? found.percent / 100 : given.viabilityPercent / 100,
    logSd: Math.log(found.high / found.low) / (2 * Z_95),
    warnings,
  };
}

function storageLoss({ hoursSince, tempC: storeTempC }: LotRequest) {
  if (hoursSince === undefined) return {};
  const { fraction, logSd } = survivalAfter([
    { hours: hoursSince, tempC: storeTempC ?? assumed.storeTempC },
  ]);
  return { survival: fraction, survivalLogSd: logSd };
}
