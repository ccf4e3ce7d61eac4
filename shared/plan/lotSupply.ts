import { aliveWhenKnown, firstFallback, type KnownLot, knownLot } from '#shared/lots/knownLot.ts';
import { logNormalLimits } from '#shared/science/logNormalSum.ts';
import { viableCellsPerUnit } from '#shared/science/lotContribution.ts';
import type { PitchStep } from '#shared/science/pitchSteps.ts';
import {
  predictedViability,
  REFERENCE_TEMP_C,
  type StoragePart,
  survivalAfter,
} from '#shared/science/storage.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Ranged } from '#shared/views/recorded.ts';
import { dayMs, hourMs } from '../durations.ts';
import { lossPerHour, type Supply } from './supply.ts';

/** A lot in store as the plan reckons with it: the same sums as for pitching it, carried to the day. */
export function lotSupply(standing: LotStanding, nowMs: number): Supply {
  const { id, code, strain, left, unit, generation, held } = standing;
  const alive = aliveWhenKnown(standing);
  const known = plannable(knownLot(standing, firstFallback(standing), undefined));
  const { rate } = standing.learned.storageLoss;
  const storeTempC = standing.latestTempC ?? strain.storeHighC;
  const useByMs = keepsUntil(standing);
  const readyMs = Math.min(nowMs, useByMs);
  const partsUntil = (atMs: number): StoragePart[] => [
    { hours: 24 * alive.equivalentDays, tempC: REFERENCE_TEMP_C },
    { hours: Math.max(0, atMs - nowMs) / hourMs, tempC: storeTempC },
  ];
  const perUnitAt = (atMs: number) => {
    if ('unusable' in known) return { median: 0, logSd: 0 };
    const { fraction, logSd } = survivalAfter(partsUntil(atMs), rate);
    return viableCellsPerUnit({ ...known.pitchLot, survival: fraction, survivalLogSd: logSd });
  };
  const alivePercentAt = (atMs: number): Ranged => {
    const { value: percent, low, high } = alive.percent;
    const then = predictedViability({ percent, low, high }, partsUntil(atMs), rate);
    return { value: then.percent, low: then.low, high: then.high };
  };
  const now = perUnitAt(nowMs);
  const cells = { median: now.median * Math.max(0, left), logSd: now.logSd };
  const { value: viabilityPercent, high } = alivePercentAt(nowMs);
  const heldBecause = held?.why ?? ('unusable' in known ? known.unusable : null);
  return {
    stock: {
      id,
      strainId: strain.id,
      readyAtHours: readyMs / hourMs,
      expiresAtHours: useByMs / hourMs,
      viableCells: cells.median,
      // A share alive that nobody measured shuts no yeast out: it is to be stained first.
      viability: (alive.from === 'guess' ? high : viabilityPercent) / 100,
      lossPerHour: lossPerHour(storeTempC, rate),
      isHeld: heldBecause !== null,
    },
    generation,
    source: {
      id,
      kind: 'lot',
      recordId: id,
      label: code,
      strainId: strain.id,
      readyAt: new Date(readyMs).toISOString(),
      useBy: Number.isFinite(useByMs) ? new Date(useByMs).toISOString() : null,
      cropFrom: null,
      cropTo: null,
      cells: { value: cells.median, ...logNormalLimits(cells) },
      viabilityPercent,
      left: { amount: left, unit },
      heldBecause,
      why: lotWhy(standing, { perUnit: now.median, cells: cells.median, storeTempC }),
    },
    logSdAt: (atMs) => perUnitAt(atMs).logSd,
    alivePercentAt,
    takenMs: Date.parse(standing.takenAt),
    usualRatio: null,
  };
}

/** A share alive that is only known to lie below a limit is nothing to plan on. */
function plannable(known: KnownLot | { unusable: string }): KnownLot | { unusable: string } {
  if ('unusable' in known || known.pitchLot.viabilityAtMost !== true) return known;
  return { unusable: 'Its stain only says that less than so much is alive: stain it again' };
}

/** The limit on storage is for crops: fresh culture comes with its own date. */
function keepsUntil({ kind, takenAt, strain }: LotStanding): number {
  return kind === 'freshCulture'
    ? Number.POSITIVE_INFINITY
    : Date.parse(takenAt) + strain.maxStorageDays * dayMs;
}

function lotWhy(
  standing: LotStanding,
  { perUnit, cells, storeTempC }: { perUnit: number; cells: number; storeTempC: number },
): PitchStep[] {
  const { unit, left, count, byParts } = standing;
  const uncounted =
    byParts === null ? 'usual density of such yeast, not counted' : 'the cells of the lots in it';
  const counted = count === null ? uncounted : 'its count';
  const stained = {
    stain: 'its stain, less the loss since',
    parts: 'the share alive of the lots in it, less the loss since',
    guess: 'usual share alive, not stained',
  }[aliveWhenKnown(standing).from];
  return [
    {
      label: `Living cells per ${unit} now`,
      formula: `${counted} × ${stained}`,
      value: perUnit,
      unit: `cells/${unit}`,
    },
    { label: 'Living cells now', formula: `× ${unit} left`, value: cells, unit: 'cells' },
    { label: 'Left of it', formula: 'by the record', value: left, unit },
    {
      label: 'Kept at',
      formula: 'its last temperature, else the warm end of the store band',
      value: storeTempC,
      unit: '°C',
    },
  ];
}
