import { usualFor } from '#shared/lots/knownLot.ts';
import type { UsualCells } from '#shared/lots/strainLearning.ts';
import { logSdFromRange } from '#shared/science/logNormalSum.ts';
import { Z_95 } from '#shared/science/normal.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Ranged, StrainView } from '#shared/views/recorded.ts';

/** As much of a strain's usual slurry as holds so many living cells. */
export type SlurryAmount = Ranged & {
  unit: 'L' | 'kg';
  /** Living cells in each litre or kilogram of it. */
  cellsPerUnit: number;
  /** Lots of the strain that the density comes from; with none it is a guess. */
  lots: number;
};

type Known = {
  strain: Pick<StrainView, 'id' | 'crops'>;
  lots: readonly {
    strain: Pick<StrainView, 'id'>;
    ageHours: LotStanding['ageHours'];
    learned: { usualCells: UsualCells | null };
  }[];
  /** Share alive of a crop [-]. */
  viability: Ranged;
};

/** Cells said as a brewer weighs or measures them: as the strain's youngest lot usually is. */
export function usualSlurry(cells: Ranged, { strain, lots, viability }: Known): SlurryAmount {
  const [youngest] = lots
    .filter((lot) => lot.strain.id === strain.id)
    .toSorted((a, b) => a.ageHours - b.ageHours);
  const usual = youngest?.learned.usualCells ?? guessed(strain.crops === 'top' ? 'kg' : 'L');
  const cellsPerUnit = 1000 * usual.value * viability.value;
  const value = cells.value / cellsPerUnit;
  const spread = Math.hypot(usual.logSd, logSdFromRange(viability)) * Z_95;
  return {
    value,
    low: value * Math.exp(-Math.hypot(spread, Math.log(cells.value / cells.low))),
    high: value * Math.exp(Math.hypot(spread, Math.log(cells.high / cells.value))),
    unit: usual.unit,
    cellsPerUnit,
    lots: usual.lots,
  };
}

function guessed(unit: 'L' | 'kg') {
  const { central, low, high } = usualFor(unit);
  return { value: central, logSd: logSdFromRange({ low, high }), unit, lots: 0 };
}
