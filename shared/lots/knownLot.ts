import {
  cellsPerMlFromSpunSolids,
  densityFallbacks,
  logSdFromRange,
} from '#shared/science/densityFallbacks.ts';
import { logNormalLimits } from '#shared/science/logNormalSum.ts';
import type { PitchLot } from '#shared/science/lotContribution.ts';
import { normalQuantile } from '#shared/science/normal.ts';
import { REFERENCE_TEMP_C, survivalAfter } from '#shared/science/storage.ts';
import { unstained, unstainedLogSd } from '#shared/science/unstained.ts';
import type { LotStanding } from '#shared/views/lots.ts';

export { unstained } from '#shared/science/unstained.ts';

/** What the cells of a lot that nobody counted are taken from. */
type Fallback = {
  id: string;
  name: string;
  central: number;
  logSd: number;
  /** Where the figure comes from, with its evidence. */
  source: string;
};

export type KnownLot = {
  standing: LotStanding;
  pitchLot: PitchLot & { id: string };
  /** What the cells rest on: a count, else the best of what is left. */
  density: { counted: true } | { counted: false; fallback: Fallback; why: string };
  isStained: boolean;
  /** Share alive now, as far as known [-]; the most it can be where the stain tells no more. */
  alive: number;
  /** Found over promised in the FV, where the cells are corrected by it. */
  correction: number | undefined;
};

type LotChoices = {
  /** Yeast layer after spinning [% of volume]. */
  spunPercent?: number | undefined;
  /** Whether the bias of the slurry figures is taken out; nobody does it unasked. */
  isCorrected?: boolean | undefined;
};

/** A share so small that the lot is dead for all purposes [-]. */
const DEAD_BELOW = 1e-3;

/** A lot as the sum of a pitch takes it, from the best evidence there is; or why it cannot. */
export function knownLot(
  standing: LotStanding,
  fallbackId: string,
  use: number | undefined,
  choices: LotChoices = {},
): KnownLot | { unusable: string } {
  const { code, stain, unit, left } = standing;
  if (stain !== null && stain.live === 0)
    return { unusable: `No living cell was seen in ${code}: do not pitch it` };
  const viability = viabilityOf(standing);
  const alive = viability.viability * (viability.survival ?? 1);
  if (alive < DEAD_BELOW) return { unusable: `${code} must be dead by now: do not pitch it` };
  const concentration = concentrationOf(standing, fallbackId, choices);
  const bias = choices.isCorrected === true ? standing.learned.slurryBias : null;
  const cells = concentration.cells * (bias?.ratio ?? 1);
  return {
    standing,
    pitchLot: {
      id: code,
      unit,
      [unit === 'L' ? 'cellsPerMl' : 'cellsPerG']: cells,
      concentrationLogSd: Math.hypot(concentration.logSd, bias?.nextBatchLogSd ?? 0),
      counted: concentration.density.counted,
      ...viability,
      available: Math.max(0, left),
      use,
    },
    density: concentration.density,
    isStained: stain !== null,
    alive,
    correction: bias?.ratio,
  };
}

type Concentration = Pick<KnownLot, 'density'> & { cells: number; logSd: number };

function concentrationOf(
  standing: LotStanding,
  fallbackId: string,
  choices: LotChoices,
): Concentration {
  const { count, unit } = standing;
  const basis = unit === 'L' ? 'mL' : 'g';
  if (count !== null && count.basis === basis && count.cellsPer.value > 0) {
    const logSd = count.logSd ?? logSdFromRange(count.cellsPer);
    return { cells: count.cellsPer.value, logSd, density: { counted: true } };
  }
  const fallback = fallbackOf(standing, fallbackId, choices);
  const why = whyNoCount(count, basis);
  return {
    cells: fallback.central,
    logSd: fallback.logSd,
    density: { counted: false, fallback, why },
  };
}

function whyNoCount(count: LotStanding['count'], basis: 'mL' | 'g'): string {
  if (count === null) return 'not counted';
  return count.basis === basis
    ? 'no cells were seen in its count'
    : `counted per ${count.basis}, but measured otherwise`;
}

function fallbackOf(
  { learned, unit }: LotStanding,
  id: string,
  { spunPercent }: LotChoices,
): Fallback {
  const usual = learned.usualCells;
  if (id === 'own' && usual !== null)
    return {
      ...{ id, name: ownName(usual), central: usual.value, logSd: usual.logSd },
      source: `${usual.lots} such lots counted before, and how they differed (the record itself)`,
    };
  if (id === 'spun' && unit === 'L' && spunPercent !== undefined && isShare(spunPercent)) {
    const { cellsPerMl, logSd } = cellsPerMlFromSpunSolids(spunPercent);
    return {
      ...{ id, name: `Spun solids of ${spunPercent} %`, central: cellsPerMl, logSd },
      source: '2.5 to 4.5 × 10⁷ cells/mL for each percent, trub left out (derived)',
    };
  }
  const found = densityFallbacks.find((each) => each.id === id && isFor(each, unit));
  const { name, central, source, evidence, ...range } = found ?? usualFor(unit);
  return {
    ...{ id: range.id, name, central, logSd: logSdFromRange(range) },
    source: `${source} (${evidence})`,
  };
}

const isShare = (percent: number) => percent > 0 && percent <= 100;
const isFor = (fallback: { unit: 'mL' | 'g' }, unit: 'L' | 'kg') =>
  (fallback.unit === 'mL') === (unit === 'L');
const ownName = ({ origin }: { origin: string }) =>
  `As this strain’s lots of ${origin} usually are`;

/** What a lot that was not counted may be taken for, the surest first. */
export function fallbacksFor({ unit, learned }: Pick<LotStanding, 'unit' | 'learned'>) {
  const own = learned.usualCells === null ? [] : [{ id: 'own', name: ownName(learned.usualCells) }];
  const spun = unit === 'L' ? [{ id: 'spun', name: 'Spun solids, measured' }] : [];
  const typical = densityFallbacks.filter((fallback) => isFor(fallback, unit));
  return [...own, ...spun, ...typical.map(({ id, name }) => ({ id, name }))];
}

/** The guess to begin with: the strain's own lots, else the widest for what is measured like this. */
export const firstFallback = ({ unit, learned }: Pick<LotStanding, 'unit' | 'learned'>) =>
  learned.usualCells === null ? usualFor(unit).id : 'own';

/** The widest for slurry, skimmed barm for what is weighed. */
export function usualFor(unit: 'L' | 'kg') {
  const wanted = unit === 'L' ? 'unknown' : 'barm';
  const found = densityFallbacks.find(({ id }) => id === wanted);
  if (found === undefined) throw new RangeError(`usualFor: no usual density named ${wanted}`);
  return found;
}

function viabilityOf({ stain, learned }: LotStanding) {
  if (stain === null) return { viability: unstained.percent / 100, viabilityLogSd: unstainedLogSd };
  const { value, low, high } = stain.percent;
  // So many hours at the reference temperature cost as much as its true history did.
  const hours = 24 * stain.predictedNow.equivalentDays;
  const survival = survivalAfter([{ hours, tempC: REFERENCE_TEMP_C }], learned.storageLoss.rate);
  return {
    viability: value / 100,
    viabilityLogSd: Math.log(high / low) / (2 * normalQuantile(0.975)),
    viabilityAtMost: stain.validity === 'at or below',
    survival: survival.fraction,
    survivalLogSd: survival.logSd,
  };
}

/** Living cells an amount carries, as a pitch records them: only the most where no more is known. */
export function expectedCells(carried: { median: number; logSd: number }, lot: PitchLot) {
  const { low, high } = logNormalLimits(carried);
  return lot.viabilityAtMost === true
    ? { expectedHighCells: high }
    : { expectedViableCells: carried.median, expectedLowCells: low, expectedHighCells: high };
}
