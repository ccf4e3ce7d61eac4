import { firstFallback, knownLot } from '#shared/lots/knownLot.ts';
import { blendOf } from '#shared/science/blend.ts';
import { GREATEST_CORRECTION } from '#shared/science/weakYeast.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import { amount, duration, generation, percent } from '../../format.ts';

export type Portion = { lot: LotStanding; use: number | undefined };

type BlendSum =
  | { kind: 'waiting'; lacking: string }
  | {
      kind: 'worked out';
      blend: ReturnType<typeof blendOf>;
      /** Codes of lots that nobody counted or stained: guesses stand in for them. */
      guessed: string[];
    };

/** What the portions make together, by the cells of each. */
export function blendSum(portions: readonly Portion[]): BlendSum {
  const waiting = (lacking: string): BlendSum => ({ kind: 'waiting', lacking });
  const [first] = portions;
  if (first === undefined || portions.length < 2) return waiting('Choose two lots or more.');
  if (portions.some(({ lot }) => lot.strain.id !== first.lot.strain.id))
    return waiting('Lots of two strains are not blended.');
  if (portions.some(({ lot }) => lot.unit !== first.lot.unit))
    return waiting('One lot is weighed, another measured: their amounts do not add up.');
  const missing = portions.find(({ use }) => !(use !== undefined && use > 0));
  if (missing !== undefined) return waiting(`Enter how much of ${missing.lot.code} goes in.`);
  const known = portions.map(({ lot, use }) => knownLot(lot, firstFallback(lot), use));
  const dead = known.find((each) => 'unusable' in each);
  if (dead !== undefined && 'unusable' in dead) return waiting(`${dead.unusable}.`);
  const usable = known.flatMap((each) => ('unusable' in each ? [] : [each]));
  return {
    kind: 'worked out',
    blend: blendOf(usable.map(({ pitchLot }) => ({ ...pitchLot, amount: pitchLot.use ?? 0 }))),
    guessed: usable
      .filter(({ density, isStained }) => !density.counted || !isStained)
      .map(({ standing }) => standing.code),
  };
}

/** A blend is as old as its oldest crop, and as clean as its worst. */
export function blendCautions(portions: readonly Portion[]): string[] {
  const lots = portions.map(({ lot }) => lot);
  const generations = lots.map((lot) => lot.generation);
  const [least, most] = [Math.min(...generations), Math.max(...generations)];
  const oldest = lots
    .filter(({ kind }) => kind !== 'freshCulture')
    .toSorted((a, b) => b.ageHours - a.ageHours)[0];
  const weakLimit = 100 / GREATEST_CORRECTION;
  return [
    ...(most > least
      ? [`Generations differ: the blend counts as ${generation(most)}, the highest in it.`]
      : []),
    ...(oldest === undefined
      ? []
      : [
          `It is as old as ${oldest.code}, ${duration(oldest.ageHours)}, and keeps no longer than that lot would.`,
        ]),
    ...lots.flatMap((lot) => lotCautions(lot, weakLimit)),
    ...portions.flatMap(({ lot, use }) =>
      use !== undefined && use > lot.left
        ? [`Only ${amount(lot.left, lot.unit)} of ${lot.code} are left by the record.`]
        : [],
    ),
    'Whatever grows in one lot grows in all of it: a suspect lot makes the blend suspect, and every ferment pitched from it.',
  ];
}

function lotCautions(lot: LotStanding, weakLimit: number): string[] {
  const { code, held, pendingChecks, stain, verdict } = lot;
  const alive = stain?.predictedNow.value;
  return [
    ...(held === null ? [] : [`${code} is on hold: ${held.why}.`]),
    ...(held === null && pendingChecks.length > 0 ? [`A plate of ${code} is not read yet.`] : []),
    ...(alive !== undefined && alive < weakLimit
      ? [
          `${code} is about ${percent(alive)} alive: blending hides weak yeast, it does not mend it.`,
        ]
      : []),
    ...(stain?.validity === 'at or below'
      ? [`Of ${code} only the most that can be alive is known: so it is of the blend.`]
      : []),
    ...(verdict.verdict === 'past it' ? [`${code} is past it: better not in.`] : []),
  ];
}
