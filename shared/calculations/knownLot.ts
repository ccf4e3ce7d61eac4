import { cellConcentration } from '#shared/science/cellCount.ts';
import { cellsPerMlFromSpunSolids, densityFallbacks } from '#shared/science/densityFallbacks.ts';
import { logSdFromRange } from '#shared/science/logNormalSum.ts';
import type { PitchLot } from '#shared/science/lotContribution.ts';
import { Z_95 } from '#shared/science/normal.ts';
import { survivalAfter } from '#shared/science/storage.ts';
import { unstained, unstainedLogSd } from '#shared/science/unstained.ts';
import { viabilityFromStain } from '#shared/science/viability.ts';
import { assumed, type LotRequest, unitOf } from './lotRequest.ts';

/** A lot as the sums take it, with what was taken for granted in plain sentences. */
export function knownLot(given: LotRequest): { lot: PitchLot; warnings: string[] } {
  const concentration = knownConcentration(given);
  const viability = knownViability(given);
  const unit = unitOf(given);
  const { ratio, logSd } = given.slurryCorrection ?? { ratio: 1, logSd: 0 };
  return {
    lot: {
      id: given.id,
      unit,
      [unit === 'L' ? 'cellsPerMl' : 'cellsPerG']: concentration.cells * ratio,
      concentrationLogSd: Math.hypot(concentration.logSd, logSd),
      counted: given.count !== undefined,
      ...viability.known,
      ...storageLoss(given),
      available: unit === 'L' ? given.availableL : given.availableKg,
      use: unit === 'L' ? given.useL : given.useKg,
    },
    warnings: [...concentration.warnings, ...viability.warnings],
  };
}

type Concentration = { cells: number; logSd: number; warnings: string[] };

function knownConcentration(given: LotRequest): Concentration {
  const stated = given.cellsPerMl ?? given.cellsPerG;
  if (given.count !== undefined) {
    const { fillings, squares, dilutionFactor, ...chamber } = given.count;
    const found = cellConcentration({
      ...chamber,
      fillings: fillings ?? [{ squares: squares ?? [], dilutionFactor: dilutionFactor ?? 1 }],
    });
    return { cells: stated ?? found.cellsPerMl, logSd: found.logSd ?? 1, warnings: [] };
  }
  if (given.spunPercent !== undefined) {
    const { cellsPerMl, logSd } = cellsPerMlFromSpunSolids(given.spunPercent);
    const warning =
      'Spun solids are a rough guess of the cells, and trub reads as yeast: count it.';
    return { cells: cellsPerMl, logSd, warnings: [warning] };
  }
  const guess = densityFallbacks.find(({ id }) => id === given.fallback);
  if (guess !== undefined) {
    const warning = `Nobody counted it: taken for ${guess.name.toLowerCase()} (${guess.source}). Count it.`;
    return { cells: guess.central, logSd: logSdFromRange(guess), warnings: [warning] };
  }
  const { relativeError } = given;
  return {
    cells: stated ?? 0,
    logSd: Math.log1p(relativeError ?? assumed.relativeError) / Z_95,
    warnings:
      relativeError === undefined
        ? [
            `Nothing is said of how sure the cells are: ± ${100 * assumed.relativeError} % is assumed.`,
          ]
        : [],
  };
}

type LotViability = Pick<PitchLot, 'viability' | 'viabilityLogSd' | 'viabilityAtMost'>;

function knownViability(given: LotRequest): { known: LotViability; warnings: string[] } {
  const warnings: string[] = [];
  if (given.live === undefined && given.viabilityPercent === undefined)
    return {
      known: { viability: unstained.percent / 100, viabilityLogSd: unstainedLogSd },
      warnings: [
        `Nobody stained it: ${unstained.percent} % alive is taken, ${unstained.low} to ${unstained.high} %. A guess, no source: stain it.`,
      ],
    };
  const reading = stainReading(given);
  if (given.live === undefined)
    warnings.push(
      `The viability is taken as read from ${assumed.stainedCells} cells; give live and dead for its true range.`,
    );
  const found = viabilityFromStain(reading);
  const viabilityAtMost = found.validity === 'at or below';
  if (viabilityAtMost)
    warnings.push(
      `Below ${found.floorPercent} % a stain reads too high: no more than this is alive, and maybe much less. The amount is the least it can be, without an upper end. Better not pitch it.`,
    );
  return {
    known: {
      viability: (given.viabilityPercent ?? found.percent) / 100,
      viabilityLogSd: logSdFromRange(found),
      viabilityAtMost,
    },
    warnings,
  };
}

/** Live and dead as counted, or as a plain percentage would have been read. */
export function stainReading({ live, dead = 0, viabilityPercent, stain = 'other' }: LotRequest) {
  if (live !== undefined) return { live, dead, stain };
  const cellsAlive = ((viabilityPercent ?? 100) / 100) * assumed.stainedCells;
  const taken = Math.max(1, Math.round(cellsAlive));
  return { live: taken, dead: assumed.stainedCells - taken, stain };
}

/** What is left alive after the time in store, where that is given. */
export function storageLoss({ hoursSince, tempC: storeTempC }: LotRequest) {
  if (hoursSince === undefined) return {};
  const { fraction, logSd } = survivalAfter([
    { hours: hoursSince, tempC: storeTempC ?? assumed.storeTempC },
  ]);
  return { survival: fraction, survivalLogSd: logSd };
}
