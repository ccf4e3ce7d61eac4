import { type BeerInYeast, beerInYeast } from '#shared/calculations/beerInYeast.ts';
import { expectedCells, type KnownLot } from '#shared/lots/knownLot.ts';
import { platoFromSg } from '#shared/science/gravity.ts';
import { lotContribution } from '#shared/science/lotContribution.ts';
import {
  type PitchPlan,
  pitchPlan,
  type RateRange,
  rateFromAmount,
} from '#shared/science/pitch.ts';
import { weakYeastVerdict } from '#shared/science/weakYeast.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { StrainView } from '#shared/views/recorded.ts';
import { percent } from '../../format.ts';
import type { Wort } from './pitchWort.ts';

export type PitchSum =
  | { kind: 'waiting'; lacking: string }
  | { kind: 'refused'; why: string[] }
  | {
      kind: 'worked out';
      lots: readonly KnownLot[];
      volumeL: number;
      plan: PitchPlan;
      targetRate: number;
      /** The rate of what was really put in, once every amount is typed. */
      actual: RateRange | undefined;
      /** What the beer in the yeast does to the wort; undefined where nobody knows that beer. */
      beer: BeerInYeast | undefined;
    };

export type WorkedOut = Extract<PitchSum, { kind: 'worked out' }>;

type Given = {
  wort: Wort;
  rate: number | undefined;
  lots: readonly (KnownLot | { unusable: string })[];
};

/** How much of each lot, by the same functions the server reckons with. */
export function pitchSum({ wort, rate, lots }: Given): PitchSum {
  const waiting = (lacking: string): PitchSum => ({ kind: 'waiting', lacking });
  const { volumeL, gravitySg } = wort;
  const targetRate = rate ?? wort.strain?.rateMillionPerMlPerPlato;
  if (volumeL === undefined || !(volumeL > 0)) return waiting('Enter the volume of the wort.');
  if (gravitySg === undefined || !(gravitySg > 1.001 && gravitySg <= 1.2))
    return waiting('Enter the gravity of the wort.');
  if (targetRate === undefined || !(targetRate > 0)) return waiting('Enter the pitching rate.');
  if (lots.length === 0) return waiting('Choose the yeast.');
  const usable = lots.flatMap((lot) => ('unusable' in lot ? [] : [lot]));
  const refusals = lots.flatMap((lot) =>
    'unusable' in lot ? [`${lot.unusable}.`] : weakness(lot),
  );
  if (refusals.length > 0) return { kind: 'refused', why: refusals };
  const pitched = usable.map(({ pitchLot }) => pitchLot);
  const inWort = { volumeL, gravityPlato: platoFromSg(gravitySg) };
  const plan = pitchPlan({ wort: inWort, rateMillionPerMlPerPlato: targetRate, lots: pitched });
  const put = pitched.flatMap((lot) => (lot.use === undefined ? [] : [{ ...lot, use: lot.use }]));
  const isAllTyped = put.length === pitched.length && put.some(({ use }) => use > 0);
  const actual = isAllTyped ? rateFromAmount({ wort: inWort, lots: put }) : undefined;
  const beer = beerInYeast(
    { volumeL, gravitySg },
    plan.lots.map(({ amount, unit }, index) => ({
      amount,
      unit,
      beer: usable[index]?.standing.entrainedBeer ?? undefined,
    })),
  );
  return { kind: 'worked out', lots: usable, volumeL, plan, targetRate, actual, beer };
}

function weakness({ standing, alive }: KnownLot): string[] {
  const weak = weakYeastVerdict(alive);
  return weak.verdict === 'reject'
    ? [`${standing.code} is about ${percent(100 * alive)} alive. ${weak.reason}.`]
    : [];
}

/** What the entry of a pitch records of the sum behind it. */
export function expectedOf({ pitchLot, correction }: KnownLot, amount: number) {
  if (!(amount > 0)) return {};
  return {
    ...expectedCells(lotContribution(pitchLot, amount), pitchLot),
    slurryCorrection: correction,
  };
}

/** Why a lot is not pitched without a word of reason; undefined when it may be. */
export function objection(
  standing: LotStanding,
  strain: StrainView | undefined,
  known: KnownLot | { unusable: string },
): string | undefined {
  const { code, held, verdict } = standing;
  if (held !== null) return `${code} is on hold: ${held.why}`;
  if ('unusable' in known) return known.unusable;
  if (weakness(known).length > 0) return `${code} is too weak`;
  if (verdict.verdict === 'past it') return `${code} is past it: ${verdict.reasons[0]?.text ?? ''}`;
  if (strain !== undefined && strain.id !== standing.strain.id)
    return `${code} is ${standing.strain.name}, the wort is for ${strain.name}`;
  return undefined;
}
