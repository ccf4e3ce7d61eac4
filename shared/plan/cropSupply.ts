import { logNormalLimits } from '#shared/science/logNormalSum.ts';
import { Z_95 } from '#shared/science/normal.ts';
import {
  type LossRate,
  predictedViability,
  type StoragePart,
  survivalAfter,
} from '#shared/science/storage.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Ranged, StrainView } from '#shared/views/recorded.ts';
import { dayMs, hourMs } from '../durations.ts';
import type { CropYield } from './cropYield.ts';
import { cellsFor, type Demand } from './demand.ts';
import { lossPerHour, type Supply } from './supply.ts';

/** Spread of the cells pitched where none was written down [-]: a judgement. */
const PITCHED_LOG_SD = 0.3;

/** Nobody crops by the clock alone: a judgement. */
const LEAST_HALF_WINDOW_HOURS = 3;

const iso = (epochMs: number) => new Date(epochMs).toISOString();
type Crop = {
  recordId: string;
  label: string;
  strain: StrainView;
  pitchedMs: number;
  pitchedCells: { median: number; logSd: number };
  cropYield: CropYield;
  notBeforeMs: number;
  /** At which the house usually keeps this yeast; undefined while no temperature is known. */
  storeTempC: number | undefined;
  /** At which its yeast loses life. */
  rate: LossRate;
};

/** What the house knows of crops of a strain. */
export type House = Pick<Crop, 'cropYield' | 'storeTempC' | 'rate'>;

/** The id of the lot a crop to come will be, told by what it comes from. */
export const cropId = (recordId: string) => `crop-${recordId}`;

/** The crop of a ferment that runs and of which nothing was kept yet; undefined when there is none to come. */
export function runningCrop(
  ferment: FermentStanding,
  { lots, nowMs, ...house }: House & { lots: readonly LotStanding[]; nowMs: number },
): Supply | undefined {
  const { id, record, vessel, strain, pitches, generation } = ferment;
  if (!isStillToCrop(ferment) || generation === null) return undefined;
  const pitchedMs = Math.min(...pitches.map(({ happenedAt }) => Date.parse(happenedAt)));
  const held = lots.find(
    (lot) => lot.held !== null && pitches.some(({ lotId }) => lotId === lot.id),
  );
  const supply = cropSupply({
    recordId: id,
    label: `crop of gyle ${record.gyle}, ${vessel}`,
    strain,
    pitchedMs,
    pitchedCells: cellsPitched(ferment),
    ...house,
    notBeforeMs: nowMs,
  });
  if (held === undefined) return { ...supply, generation: generation + 1 };
  const heldBecause = `its yeast, ${held.code}, is on hold: ${held.held?.why ?? ''}`;
  return {
    ...supply,
    generation: generation + 1,
    stock: { ...supply.stock, isHeld: true },
    source: { ...supply.source, heldBecause },
  };
}

/** The crop that a planned brew will give, once it is fed. */
export function plannedCrop(demand: Demand, house: House): Supply {
  const supply = cropSupply({
    recordId: demand.id,
    label: `crop of ${demand.beer}`,
    strain: demand.strain,
    pitchedMs: demand.atMs,
    pitchedCells: { median: demand.neededCells, logSd: 0 },
    ...house,
    notBeforeMs: demand.atMs,
  });
  return {
    ...supply,
    fromBrewId: demand.id,
    source: { ...supply.source, kind: 'planned crop' },
  };
}

/** A top crop is skimmed while it ferments; from a cone yeast is drawn until it is racked. */
function isStillToCrop({ state, strain, crops }: FermentStanding): boolean {
  if (crops.length > 0) return false;
  return state === 'fermenting' || (strain.crops === 'bottom' && state === 'chilled');
}

function cellsPitched({ pitches, record, strain }: FermentStanding) {
  const expected = pitches.map(({ expectedViableCells }) => expectedViableCells);
  if (!expected.every((cells) => cells !== undefined && cells > 0))
    return { median: cellsFor(record, strain), logSd: PITCHED_LOG_SD };
  const median = expected.reduce((sum: number, cells) => sum + (cells ?? 0), 0);
  const low = pitches.reduce((sum, { expectedLowCells = 0 }) => sum + expectedLowCells, 0);
  return { median, logSd: low > 0 ? Math.log(median / low) / Z_95 : PITCHED_LOG_SD };
}

function cropSupply(crop: Crop): Supply {
  const { recordId, label, strain, pitchedMs, pitchedCells, cropYield, notBeforeMs, rate } = crop;
  const { ratio, ratioLogSd, hours, viability } = cropYield;
  const readyMs = Math.max(notBeforeMs, pitchedMs + hours.value * hourMs);
  const useByMs = readyMs + strain.maxStorageDays * dayMs;
  const storeTempC = crop.storeTempC ?? strain.storeHighC;
  const partsUntil = (atMs: number): StoragePart[] => [
    { hours: Math.max(0, atMs - readyMs) / hourMs, tempC: storeTempC },
  ];
  const logSd = Math.hypot(ratioLogSd, pitchedCells.logSd);
  const cells = { median: pitchedCells.median * ratio.value, logSd };
  return {
    stock: {
      id: cropId(recordId),
      strainId: strain.id,
      readyAtHours: readyMs / hourMs,
      expiresAtHours: useByMs / hourMs,
      viableCells: cells.median,
      viability: viability.value,
      lossPerHour: lossPerHour(storeTempC, rate),
    },
    generation: null,
    source: {
      id: cropId(recordId),
      kind: 'running crop',
      recordId,
      label,
      strainId: strain.id,
      readyAt: iso(readyMs),
      useBy: iso(useByMs),
      cropFrom: iso(
        pitchedMs + Math.min(hours.low, hours.value - LEAST_HALF_WINDOW_HOURS) * hourMs,
      ),
      cropTo: iso(pitchedMs + Math.max(hours.high, hours.value + LEAST_HALF_WINDOW_HOURS) * hourMs),
      cells: { value: cells.median, ...logNormalLimits(cells) },
      viabilityPercent: 100 * viability.value,
      left: null,
      heldBecause: null,
      why: cropWhy(crop, cells.median),
    },
    logSdAt: (atMs) => Math.hypot(logSd, survivalAfter(partsUntil(atMs), rate).logSd),
    alivePercentAt: (atMs) => aliveAfter(viability, partsUntil(atMs), rate),
    takenMs: readyMs,
    usualRatio: ratio,
  };
}

function aliveAfter(
  { value, low, high }: Ranged,
  parts: readonly StoragePart[],
  rate: LossRate,
): Ranged {
  const measured = { percent: 100 * value, low: 100 * low, high: 100 * high };
  const then = predictedViability(measured, parts, rate);
  return { value: then.percent, low: then.low, high: then.high };
}

function cropWhy({ cropYield, pitchedCells }: Crop, cells: number) {
  const own = cropYield.basis === 'own crops';
  return [
    {
      label: 'Living cells pitched',
      formula: pitchedCells.logSd === 0 ? 'what the brew needs' : 'by its pitch',
      value: pitchedCells.median,
      unit: 'cells',
    },
    {
      label: 'Kept for each one pitched',
      formula: own
        ? `middle of ${cropYield.crops} of your own crops of this strain`
        : `usual for a top crop; you have ${cropYield.crops} measured crops of your own`,
      value: cropYield.ratio.value,
      unit: '',
    },
    { label: 'Living cells to come', formula: 'the two multiplied', value: cells, unit: 'cells' },
    {
      label: 'Cropped after',
      formula: own ? 'middle of your own crops' : 'usual, common practice',
      value: cropYield.hours.value,
      unit: 'h from pitching',
    },
  ];
}
