import { cellsPerMlFromSpunSolids, densityFallbacks } from '#shared/science/densityFallbacks.ts';
import { logNormalLimits, logSdFromRange } from '#shared/science/logNormalSum.ts';
import type { PitchLot } from '#shared/science/lotContribution.ts';
import { Z_95 } from '#shared/science/normal.ts';
import { REFERENCE_TEMP_C, survivalAfter } from '#shared/science/storage.ts';
import { unstained, unstainedLogSd } from '#shared/science/unstained.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { LotByParts } from './byParts.ts';

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

const PARTS_NAME = 'Worked out from the lots in it';

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
  const alive = viability.viability * viability.survival;
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
  { learned, unit, byParts }: LotStanding,
  id: string,
  { spunPercent }: LotChoices,
): Fallback {
  if (id === 'parts' && byParts !== null)
    return {
      ...{ id, name: PARTS_NAME, central: byParts.cellsPer.value, logSd: byParts.cellsLogSd },
      source: partsWords(byParts),
    };
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

/** "TN-412A and TN-413A by their counts", and which of them nobody counted. */
export function partsWords({ parts }: LotByParts): string {
  const named = (codes: readonly { code: string }[]) => codes.map(({ code }) => code).join(' and ');
  const counted = parts.filter(({ isCounted }) => isCounted);
  const guessed = parts.filter(({ isCounted }) => !isCounted);
  const by = counted.length === 0 ? '' : `${named(counted)} by count`;
  const guess = guessed.length === 0 ? '' : `${named(guessed)} not counted, so by a usual figure`;
  return [by, guess].filter((text) => text !== '').join('; ');
}

const isShare = (percent: number) => percent > 0 && percent <= 100;
const isFor = (fallback: { unit: 'mL' | 'g' }, unit: 'L' | 'kg') =>
  (fallback.unit === 'mL') === (unit === 'L');
const ownName = ({ origin }: { origin: string }) =>
  `As this strain’s lots of ${origin} usually are`;

type Uncounted = Pick<LotStanding, 'unit' | 'learned' | 'byParts'>;

/** What a lot that was not counted may be taken for, the surest first. */
export function fallbacksFor({ unit, learned, byParts }: Uncounted) {
  const parts = byParts === null ? [] : [{ id: 'parts', name: PARTS_NAME }];
  const own = learned.usualCells === null ? [] : [{ id: 'own', name: ownName(learned.usualCells) }];
  const spun = unit === 'L' ? [{ id: 'spun', name: 'Spun solids, measured' }] : [];
  const typical = densityFallbacks.filter((fallback) => isFor(fallback, unit));
  return [...parts, ...own, ...spun, ...typical.map(({ id, name }) => ({ id, name }))];
}

/** To begin with: a blend's parts, the strain's own lots, else the widest for what is measured like this. */
export function firstFallback({ unit, learned, byParts }: Uncounted): string {
  if (byParts !== null) return 'parts';
  return learned.usualCells === null ? usualFor(unit).id : 'own';
}

/** The widest for slurry, skimmed barm for what is weighed. */
export function usualFor(unit: 'L' | 'kg') {
  const wanted = unit === 'L' ? 'unknown' : 'barm';
  const found = densityFallbacks.find(({ id }) => id === wanted);
  if (found === undefined) throw new RangeError(`usualFor: no usual density named ${wanted}`);
  return found;
}

/** Share alive by a stain, by the parts of a blend, or by a guess; and how old in storage that is. */
export function aliveWhenKnown({ stain, byParts }: Pick<LotStanding, 'stain' | 'byParts'>) {
  if (stain !== null) {
    const { low, high } = stain.percent;
    return {
      ...{ from: 'stain', percent: stain.percent, atMost: stain.validity === 'at or below' },
      logSd: Math.log(high / low) / (2 * Z_95),
      equivalentDays: stain.predictedNow.equivalentDays,
    } as const;
  }
  if (byParts !== null) {
    const { percent, percentLogSd: logSd, atMost, predictedNow } = byParts;
    const { equivalentDays } = predictedNow;
    return { from: 'parts', percent, atMost, logSd, equivalentDays } as const;
  }
  const percent = { value: unstained.percent, low: unstained.low, high: unstained.high };
  return {
    from: 'guess',
    percent,
    atMost: false,
    logSd: unstainedLogSd,
    equivalentDays: 0,
  } as const;
}

function viabilityOf(standing: LotStanding) {
  const { percent, logSd, atMost, equivalentDays } = aliveWhenKnown(standing);
  // So many hours at the reference temperature cost as much as its true history did.
  const history = [{ hours: 24 * equivalentDays, tempC: REFERENCE_TEMP_C }];
  const survival = survivalAfter(history, standing.learned.storageLoss.rate);
  return {
    viability: percent.value / 100,
    viabilityLogSd: logSd,
    viabilityAtMost: atMost,
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
