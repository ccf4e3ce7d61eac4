import type { Medium } from '#shared/micro/media.ts';
import { abvBalling } from '#shared/science/alcohol.ts';
import { cellConcentration } from '#shared/science/cellCount.ts';
import type { LossRate } from '#shared/science/lossRate.ts';
import { equivalentDays, predictedViability } from '#shared/science/storage.ts';
import { viabilityFromStain } from '#shared/science/viability.ts';
import type { SiteKey } from '#shared/sites/site.ts';
import type { LotCount, LotPetites, LotRecord, LotStain, LotStanding } from '#shared/views/lots.ts';
import type { Recorded, StrainView } from '#shared/views/recorded.ts';
import { hourMs } from '../durations.ts';
import { type BlendedLot, byParts } from './byParts.ts';
import { type HoldEvidence, heldBy, holdingsOf } from './holding.ts';
import { plateStandings } from './lotPlates.ts';
import { lotVerdict } from './lotVerdict.ts';
import { lotWash } from './lotWash.ts';
import { looksForPetites, petitePercent } from './petites.ts';
import { storageHistory } from './storageHistory.ts';
import { lotOrigin } from './strainHistory.ts';
import {
  type CountErrors,
  learningFor,
  nothingLearned,
  type StrainLearning,
} from './strainLearning.ts';

export type LotRow = {
  id: string;
  kind: 'freshCulture' | 'crop' | 'blend' | 'transfer';
  code: string;
  siteId: SiteKey;
  strainId: string;
  lineId: string;
  generation: number;
  timesPitched: number;
  /** When it was taken: of a blend, the oldest crop in it. */
  happenedMs: number;
  amountL: number | null;
  amountKg: number | null;
  leftL: number | null;
  leftKg: number | null;
  fromFerment: { id: string; gyle: string; beer: string } | null;
  /** Of the gyle it was cropped from, where that is known. */
  sourceOriginalSg?: number | null;
};

export type LotEvidence = HoldEvidence & {
  row: LotRow;
  record: LotRecord;
  /** What it was before it was sent from one site to another; left out where it never was. */
  first?: LotRecord | undefined;
  strain: StrainView;
  counts: readonly Recorded<'count'>[];
  stains: readonly Recorded<'stain'>[];
  storeReadings: readonly Recorded<'storeReading'>[];
  treatments?: readonly Recorded<'treatment'>[] | undefined;
  media?: readonly Medium[] | undefined;
  /** Of a blend: the lots in it as they stood when it was made. */
  blended?: readonly BlendedLot[] | undefined;
};

export type { CountErrors } from './strainLearning.ts';

/** How a lot stands at a moment: what is left, what is known of it, and whether it is fit to pitch. */
export function lotStanding(
  evidence: LotEvidence,
  errors: CountErrors,
  nowMs: number,
  learning: StrainLearning = nothingLearned,
): LotStanding {
  const { row, record, strain, storeReadings } = evidence;
  const unit = row.amountL === null ? ('kg' as const) : ('L' as const);
  const learned = learningFor(learning, { origin: lotOrigin(evidence.first ?? record), unit });
  const holdings = holdingsOf(evidence, strain);
  const holding = heldBy(holdings);
  const facts = {
    id: row.id,
    code: row.code,
    kind: row.kind,
    record,
    siteId: row.siteId,
    strain,
    generation: row.generation,
    timesPitched: row.timesPitched,
    lineId: row.lineId,
    fromFerment: row.fromFerment,
    unit,
    amount: row.amountL ?? row.amountKg ?? 0,
    left: row.leftL ?? row.leftKg ?? 0,
    takenAt: new Date(row.happenedMs).toISOString(),
    ageHours: (nowMs - row.happenedMs) / hourMs,
    count: lotCount(evidence.counts.at(-1), strain, errors, nowMs),
    stain: lotStain(evidence.stains.at(-1), evidence, nowMs, learned.storageLoss.rate),
    byParts: byParts(evidence, { nowMs, rate: learned.storageLoss.rate }),
    latestTempC: storeReadings.at(-1)?.tempC ?? null,
    warmestTempC:
      storeReadings.length === 0
        ? null
        : Math.max(...storeReadings.map((reading) => reading.tempC)),
    held: holding === undefined ? null : { why: holding.why, since: holding.since, by: holding.by },
    pendingChecks: pendingChecks(evidence, nowMs),
    plates: plateStandings(evidence),
    wash: lotWash(evidence.treatments ?? [], nowMs),
    petites: lotPetites(evidence),
    learned,
    entrainedBeer: entrainedBeer(evidence),
  };
  return { ...facts, verdict: lotVerdict({ ...facts, holdings }) };
}

function lotCount(
  count: Recorded<'count'> | undefined,
  strain: StrainView,
  errors: CountErrors,
  nowMs: number,
): LotCount | null {
  if (count === undefined) return null;
  const found = cellConcentration({ ...count, errors });
  const ageHours = (nowMs - Date.parse(count.happenedAt)) / hourMs;
  return {
    recordId: count.id,
    at: count.happenedAt,
    ageHours,
    basis: count.basis,
    cellsPer: { value: found.cellsPerMl, low: found.low, high: found.high },
    logSd: found.logSd ?? null,
    cellsCounted: found.cellsCounted,
    clumped: found.dispersion?.clumped ?? false,
    stale: ageHours > strain.staleCountHours,
  };
}

function lotStain(
  stain: Recorded<'stain'> | undefined,
  { storeReadings, strain }: LotEvidence,
  nowMs: number,
  rate: LossRate,
): LotStain | null {
  if (stain === undefined) return null;
  const found = viabilityFromStain(stain);
  const atMs = Date.parse(stain.happenedAt);
  const history = storageHistory(storeReadings, strain, { fromMs: atMs, toMs: nowMs });
  const predicted = predictedViability(found, history, rate);
  return {
    recordId: stain.id,
    at: stain.happenedAt,
    ageHours: (nowMs - atMs) / hourMs,
    stain: stain.stain,
    live: stain.live,
    dead: stain.dead,
    percent: { value: found.percent, low: found.low, high: found.high },
    validity: found.validity,
    note: found.note,
    predictedNow: {
      value: predicted.percent,
      low: predicted.low,
      high: predicted.high,
      equivalentDays: equivalentDays(history),
    },
  };
}

function lotPetites({ checks, results }: LotEvidence): LotPetites | null {
  const own = new Set(checks.filter(looksForPetites).map((check) => check.id));
  const read = results.findLast(({ checkId, ofColonies }) => own.has(checkId) && ofColonies);
  if (read?.colonies === undefined || read.ofColonies === undefined) return null;
  const { id, happenedAt, colonies: found, ofColonies: examined } = read;
  return { recordId: id, at: happenedAt, found, examined, percent: petitePercent(found, examined) };
}

/** The beer between the cells: of the gravity it had when it was cropped. */
function entrainedBeer({ row, first, ...evidence }: LotEvidence): LotStanding['entrainedBeer'] {
  const record = first ?? evidence.record;
  const originalSg = row.sourceOriginalSg ?? null;
  if (record.kind !== 'crop' || record.gravitySg === undefined || originalSg === null) return null;
  const gravitySg = Math.min(record.gravitySg, originalSg);
  return { gravitySg, abvPercent: abvBalling(originalSg, gravitySg) };
}

function pendingChecks({ checks, results }: LotEvidence, nowMs: number) {
  const read = new Set(results.map((result) => result.checkId));
  return checks
    .filter((check) => !read.has(check.id))
    .map((check) => ({
      id: check.id,
      medium: check.medium,
      dueAt: check.dueAt,
      overdue: Date.parse(check.dueAt) < nowMs,
    }));
}
