import { cellConcentration } from '#shared/science/cellCount.ts';
import { logNormalSum } from '#shared/science/logNormalSum.ts';
import { type LossRate, learnedLossRate, type StainedTwice } from '#shared/science/lossRate.ts';
import { type PitchCheck, type RunningBias, runningBias } from '#shared/science/slurryBias.ts';
import { equivalentDays } from '#shared/science/storage.ts';
import { LEAST_COUNTS, usualDensity } from '#shared/science/usualDensity.ts';
import type { Ranged, Recorded } from '#shared/views/recorded.ts';
import { hourMs } from '../durations.ts';
import { storageHistory } from './storageHistory.ts';
import {
  FV_COUNT_WITHIN_HOURS,
  type FvCount,
  type LotKind,
  type StainedLot,
  type StrainHistory,
} from './strainHistory.ts';

/** The brewery's own spreads of chamber filling and pipetting, as fractions. */
export type CountErrors = { chamberCv: number; pipettingCv: number };

/** Living cells lost a day at 1 °C, as a fraction: believed beforehand, and learned since. */
export type StorageLoss = {
  prior: Ranged;
  learned: Ranged;
  /** Lots stained twice that it was learned from. */
  lots: number;
  /** To reckon the next lot with; its spread holds how lots differ. */
  rate: LossRate;
};

/** What lots of a kind usually hold, per mL or per g. */
export type UsualCells = LotKind & Ranged & { logSd: number; lots: number };

/** How far counts in the FV lie from what the slurry figures promised, for lots of a kind. */
export type SlurryBias = LotKind & RunningBias;

export type StrainLearning = {
  storageLoss: StorageLoss;
  usualCells: readonly UsualCells[];
  slurryBias: readonly SlurryBias[];
};

/** What is left of it for one lot. */
export type LotLearning = {
  storageLoss: StorageLoss;
  usualCells: UsualCells | null;
  slurryBias: SlurryBias | null;
};

/**
 * Taken for a figure of cells in an FV that came without its squares: one filling of about 200 cells
 * from one dilution [-]. Source: [BerksonMagathHurn1939], from memory.
 */
const UNSTATED_COUNT_LOG_SD = 0.1;

/** What a strain's own records teach about its next lot. */
export function strainLearning(history: StrainHistory, errors: CountErrors): StrainLearning {
  return {
    storageLoss: storageLossOf(
      history.stainedLots.flatMap((lot) => stainedTwice(lot, history.storeHighC)),
    ),
    usualCells: usualCellsOf(history.counts, errors),
    slurryBias: slurryBiasOf(history.fvCounts, errors),
  };
}

/** Before there is any record. */
export const nothingLearned: StrainLearning = {
  storageLoss: storageLossOf([]),
  usualCells: [],
  slurryBias: [],
};

/** What was learned of lots like one: of its strain, cut and unit. */
export function learningFor(learning: StrainLearning, kind: LotKind): LotLearning {
  const ofKind = <T extends LotKind>(items: readonly T[]) =>
    items.find(({ origin, unit }) => origin === kind.origin && unit === kind.unit) ?? null;
  return {
    storageLoss: learning.storageLoss,
    usualCells: ofKind(learning.usualCells),
    slurryBias: ofKind(learning.slurryBias),
  };
}

function storageLossOf(pairs: readonly StainedTwice[]): StorageLoss {
  const { prior, learned, nextLot } = learnedLossRate(pairs);
  const ranged = ({ perDay, low, high }: { perDay: number; low: number; high: number }) => ({
    value: perDay,
    low,
    high,
  });
  return {
    prior: ranged(prior),
    learned: ranged(learned),
    lots: pairs.length,
    rate: nextLot,
  };
}

/** First and last stain of a lot by the same dye, unless the yeast was treated between them. */
function stainedTwice(
  { stains, storeReadings, treatments }: StainedLot,
  storeHighC: number,
): StainedTwice[] {
  const later = stains.at(-1);
  const first = stains.find(({ stain }) => stain === later?.stain);
  if (first === undefined || later === undefined) return [];
  const span = { fromMs: Date.parse(first.happenedAt), toMs: Date.parse(later.happenedAt) };
  const isBetween = ({ happenedAt }: { happenedAt: string }) =>
    Date.parse(happenedAt) >= span.fromMs && Date.parse(happenedAt) <= span.toMs;
  const days = equivalentDays(storageHistory(storeReadings, { storeHighC }, span));
  if (!(days > 0) || first.live === 0 || treatments.some(isBetween)) return [];
  return [
    {
      equivalentDays: days,
      firstLive: first.live,
      firstDead: first.dead,
      laterLive: later.live,
      laterDead: later.dead,
    },
  ];
}

function usualCellsOf(counts: StrainHistory['counts'], errors: CountErrors): UsualCells[] {
  const usable = counts.filter(
    ({ lot, count }) => (lot.unit === 'L') === (count.basis === 'mL') && seen(count) > 0,
  );
  return byKind(usable).flatMap(({ kind, items }) => {
    const latest = new Map(items.toReversed().map(({ count }) => [count.lotId, count]));
    if (latest.size < LEAST_COUNTS) return [];
    const found = [...latest.values()].map((count) => cellConcentration({ ...count, errors }));
    const usual = usualDensity(found.map(({ cellsPerMl }) => cellsPerMl));
    return [{ ...kind, ...usual, lots: latest.size }];
  });
}

function slurryBiasOf(fvCounts: StrainHistory['fvCounts'], errors: CountErrors): SlurryBias[] {
  const checks = fvCounts.flatMap((fv) => {
    const lot = onlyKind(fv);
    const check = pitchCheck(fv, errors);
    return lot === undefined || check === undefined ? [] : [{ lot, check }];
  });
  return byKind(checks).flatMap(({ kind, items }) => {
    const bias = runningBias(items.map(({ check }) => check));
    return bias === undefined ? [] : [{ ...kind, ...bias }];
  });
}

/** A wort pitched from lots of two kinds tells nothing of either. */
function onlyKind({ pitches }: FvCount): LotKind | undefined {
  const [first, ...others] = pitches.map(({ lot }) => lot);
  const isAlike = others.every((lot) => lot.origin === first?.origin && lot.unit === first.unit);
  return isAlike ? first : undefined;
}

/** All cells, alive and dead, found in the wort against those counted in what went in. */
function pitchCheck(
  { found, volumeL, pitches }: FvCount,
  errors: CountErrors,
): PitchCheck | undefined {
  const cells = suspendedCells(found, errors);
  const brought = pitches.map(({ pitch, counts }) => allCellsOf(pitch, counts, errors));
  const counted = brought.filter((each) => each !== undefined);
  const lastMs = Math.max(...pitches.map(({ pitch }) => Date.parse(pitch.happenedAt)));
  const hours = (Date.parse(found.happenedAt) - lastMs) / hourMs;
  const isInTime = hours >= 0 && hours <= FV_COUNT_WITHIN_HOURS;
  if (cells === undefined || !isInTime || counted.length < pitches.length) return undefined;
  const { median, logSd } = logNormalSum(counted);
  return {
    expectedPerMl: median / (volumeL * 1000),
    expectedLogSd: logSd,
    foundPerMl: cells.value,
    foundLogSd: cells.logSd,
  };
}

/** Cells in suspension by a reading: from its squares, else the figure written down. */
function suspendedCells(
  reading: Pick<Recorded<'reading'>, 'cellsPerMl' | 'count'>,
  errors: CountErrors,
): { value: number; logSd: number } | undefined {
  if (reading.count !== undefined) {
    const { cellsPerMl, logSd } = cellConcentration({ ...reading.count, errors });
    return logSd === undefined ? undefined : { value: cellsPerMl, logSd };
  }
  const { cellsPerMl = 0 } = reading;
  return cellsPerMl > 0 ? { value: cellsPerMl, logSd: UNSTATED_COUNT_LOG_SD } : undefined;
}

function allCellsOf(
  { amountL, amountKg, happenedAt }: Recorded<'pitch'>,
  counts: readonly Recorded<'count'>[],
  errors: CountErrors,
) {
  const basis = amountL === undefined ? 'g' : 'mL';
  const count = counts.findLast(
    (each) =>
      each.basis === basis &&
      seen(each) > 0 &&
      Date.parse(each.happenedAt) <= Date.parse(happenedAt),
  );
  if (count === undefined) return undefined;
  const { cellsPerMl, logSd = 0 } = cellConcentration({ ...count, errors });
  return { median: 1000 * cellsPerMl * (amountL ?? amountKg ?? 0), logSd };
}

const seen = ({ fillings }: Pick<Recorded<'count'>, 'fillings'>) =>
  fillings.flatMap(({ squares }) => squares).reduce((sum, cells) => sum + cells, 0);

function byKind<T extends { lot: LotKind }>(items: readonly T[]) {
  const groups = new Map<string, { kind: LotKind; items: T[] }>();
  for (const item of items) {
    const { origin, unit } = item.lot;
    const key = `${origin} ${unit}`;
    const group = groups.get(key) ?? { kind: { origin, unit }, items: [] };
    group.items.push(item);
    groups.set(key, group);
  }
  return [...groups.values()];
}
