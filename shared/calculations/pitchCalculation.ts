import * as z from 'zod/mini';
import { quantity } from '#shared/fields.ts';
import { platoFromSg } from '#shared/science/gravity.ts';
import type { PitchLot } from '#shared/science/lotContribution.ts';
import { type PitchPlan, pitchPlan } from '#shared/science/pitch.ts';
import { weakYeastVerdict } from '#shared/science/weakYeast.ts';
import { type BeerInYeast, beerInYeast } from './beerInYeast.ts';
import { wortGravity } from './gravityField.ts';
import { knownLot } from './knownLot.ts';
import { lotFaults } from './lotFaults.ts';
import { lotFields } from './lotRequest.ts';

const lot = z.strictObject({
  ...lotFields,
  /** The beer between the cells: what it does to the wort is told. */
  beerGravitySg: z.optional(
    quantity('Gravity of the beer in the yeast', '', { min: 0.98, max: 1.2 }),
  ),
  beerAbvPercent: z.optional(
    quantity('Alcohol of the beer in the yeast', '%', { min: 0, max: 20 }),
  ),
});

export const pitchRequest = z
  .strictObject({
    wort: z.strictObject({
      volumeL: quantity('Volume', 'litres', { min: 0.01, max: 1_000_000 }),
      gravitySg: z.optional(z.number({ error: 'gravitySg must be a number such as 1.040' })),
      gravityPlato: z.optional(z.number({ error: 'gravityPlato must be a number such as 10' })),
    }),
    rateMillionPerMlPerPlato: quantity('Pitching rate', 'million cells per mL per °P', {
      min: 0.001,
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
    // Fields that are wrong by themselves are not judged together.
    if (context.issues.length > 0) return;
    const { wort, lots } = context.value;
    const refuse = (path: (string | number)[], message: string) =>
      context.issues.push({ code: 'custom', input: context.value, path, message });
    const gravity = wortGravity(wort);
    if ('message' in gravity) refuse(['wort', gravity.field], gravity.message);
    lots.forEach((given, index) => {
      for (const { field, message } of [...lotFaults(given), ...beerFaults(given)])
        refuse(['lots', index, field], message);
    });
  });

type PitchCalculationRequest = z.output<typeof pitchRequest>;

function beerFaults({ beerGravitySg, beerAbvPercent }: z.output<typeof lot>) {
  return (beerGravitySg === undefined) === (beerAbvPercent === undefined)
    ? []
    : [{ field: 'beerGravitySg', message: 'Give gravity and alcohol of the beer in the yeast' }];
}

type PitchLotReply = Omit<PitchPlan['lots'][number], 'leftAfter' | 'amount' | 'low' | 'high'> & {
  /** Null where the yeast is too weak for any amount to make up for it. */
  amount: number | null;
  low: number | null;
  /** Null too where only the least amount can be told. */
  high: number | null;
  leftAfter: number | null;
  /** Whether pitching more still makes up for what is dead. */
  weak: ReturnType<typeof weakYeastVerdict>;
};

type PitchReply = Omit<PitchPlan, 'lots' | 'steps' | 'shortage'> & {
  gravityPlato: number;
  lots: PitchLotReply[];
  shortage: NonNullable<PitchPlan['shortage']> | null;
  /** What the beer in the yeast does to the wort; null where it was not told. */
  beerInYeast: BeerInYeast | null;
  why: PitchPlan['steps'];
  warnings: string[];
};

/** How much of which lot to pitch, how sure that is, and every step of the sum. */
export function pitchCalculation(request: PitchCalculationRequest): PitchReply {
  const { volumeL } = request.wort;
  const gravitySg = sgOfWort(request);
  const gravityPlato = platoFromSg(gravitySg);
  const known = request.lots.map((given, index) => describe(given, index));
  const { steps, shortage, lots, ...plan } = pitchPlan({
    wort: { volumeL, gravityPlato },
    rateMillionPerMlPerPlato: request.rateMillionPerMlPerPlato,
    lots: known.filter(({ isRefused }) => !isRefused).map((each) => each.lot),
  });
  const beer = beerInYeast(
    { volumeL, gravitySg },
    known.map(({ lot: { id, unit }, beer: own }) => ({
      amount: lots.find((part) => part.id === id)?.amount ?? 0,
      unit,
      beer: own,
    })),
  );
  return {
    ...plan,
    gravityPlato,
    lots: known.map((each) => lotReply(each, lots)),
    shortage: shortage ?? null,
    beerInYeast: beer ?? null,
    why: steps,
    warnings: known.flatMap(({ warnings }) => warnings),
  };
}

type Described = {
  lot: PitchLot & { id: string };
  weak: ReturnType<typeof weakYeastVerdict>;
  isRefused: boolean;
  beer: { gravitySg: number; abvPercent: number } | undefined;
  warnings: string[];
};

/** A lot too weak is left out of the sum, unless its amount is fixed and only the rate is asked. */
function describe(given: z.output<typeof lot>, index: number): Described {
  const { lot: known, warnings } = knownLot(given);
  const { id = String(index + 1), viability, survival = 1, use } = known;
  const weak = weakYeastVerdict(viability * survival);
  const { beerGravitySg: gravitySg, beerAbvPercent: abvPercent } = given;
  return {
    lot: { ...known, id },
    weak,
    isRefused: weak.verdict === 'reject' && use === undefined,
    beer:
      gravitySg === undefined || abvPercent === undefined ? undefined : { gravitySg, abvPercent },
    warnings:
      weak.verdict === 'reject' ? [...warnings, `Lot ${id}: ${weak.reason}. Reject it.`] : warnings,
  };
}

function lotReply({ lot: { id, unit }, weak }: Described, parts: PitchPlan['lots']): PitchLotReply {
  const part = parts.find((each) => each.id === id);
  if (part === undefined) {
    const none = { amount: null, low: null, high: null, leftAfter: null };
    return { id, unit, ...none, share: 0, viableCells: 0, overdrawn: false, weak };
  }
  return {
    ...part,
    high: Number.isFinite(part.high) ? part.high : null,
    leftAfter: part.leftAfter ?? null,
    weak,
  };
}

function sgOfWort({ wort }: PitchCalculationRequest): number {
  const gravity = wortGravity(wort);
  if ('message' in gravity) throw new RangeError(`sgOfWort: ${gravity.message}`);
  return gravity.gravitySg;
}
