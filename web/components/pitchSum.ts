import { type PitchReply, pitchCalculation } from '#shared/calculations/pitchCalculation.ts';
import { densityFallbacks } from '#shared/science/densityFallbacks.ts';
import { normalQuantile } from '#shared/science/normal.ts';
import { REFERENCE_TEMP_C } from '#shared/science/storage.ts';
import type { FermentStanding, LotStanding } from '#shared/views.ts';

export type LotUse = { lot: LotStanding; use: number | undefined };
export type PitchSum = { reply: PitchReply } | { lacking: string };

const Z_95 = normalQuantile(0.975);

/** The sum behind a pitch, by the very function the interface answers with. */
export function pitchSum(
  ferment: FermentStanding,
  rate: number,
  lots: readonly LotUse[],
): PitchSum {
  if (lots.length === 0) return { lacking: 'Choose the yeast.' };
  const dead = lots.find(({ lot }) => lot.stain !== null && lot.stain.live === 0);
  if (dead !== undefined)
    return { lacking: `No living cell was seen in ${dead.lot.code}: do not pitch it.` };
  try {
    const reply = pitchCalculation({
      wort: { volumeL: ferment.record.volumeL, gravitySg: ferment.record.originalGravitySg },
      rateMillionPerMlPerPlato: rate,
      lots: lots.map(lotRequest),
    });
    return { reply };
  } catch (error) {
    return { lacking: error instanceof Error ? error.message : 'The sum cannot be done.' };
  }
}

function lotRequest({ lot, use }: LotUse) {
  const known = lotDensity(lot);
  const litres = lot.unit === 'L';
  const left = Math.max(0, lot.left);
  return {
    id: lot.code,
    ...(litres ? { cellsPerMl: known.cells } : { cellsPerG: known.cells }),
    relativeError: Math.expm1(Z_95 * known.logSd),
    ...viability(lot),
    ...(litres ? { availableL: left } : { availableKg: left }),
    ...(use === undefined ? {} : litres ? { useL: use } : { useKg: use }),
  };
}

/** Cells of a lot by its count, else by what such yeast usually holds, with that wide spread. */
export function lotDensity(lot: LotStanding): { cells: number; logSd: number; isCounted: boolean } {
  const fits = lot.count !== null && (lot.count.basis === 'mL') === (lot.unit === 'L');
  if (lot.count !== null && fits && lot.count.logSd !== null)
    return { cells: lot.count.cellsPer.value, logSd: lot.count.logSd, isCounted: true };
  const guess = usual(lot.unit);
  return { ...guess, isCounted: false };
}

function usual(unit: 'L' | 'kg') {
  const wanted = unit === 'L' ? 'ordinary' : 'barm';
  const fallback = densityFallbacks.find(({ id }) => id === wanted);
  if (fallback === undefined) throw new Error(`No usual density for ${wanted}.`);
  return { cells: fallback.central, logSd: Math.log(fallback.high / fallback.low) / (2 * Z_95) };
}

/** Taken where no stain was made; the page says so. */
export const assumedViabilityPercent = 90;

function viability({ stain }: LotStanding) {
  if (stain === null) return { viabilityPercent: assumedViabilityPercent };
  return {
    live: stain.live,
    dead: stain.dead,
    // So many hours at the reference temperature cost as much as its true history did.
    hoursSince: 24 * stain.predictedNow.equivalentDays,
    tempC: REFERENCE_TEMP_C,
  };
}
