import { studentTQuantile } from '#shared/science/betaFunctions.ts';
import { logSdFromRange } from '#shared/science/logNormalSum.ts';
import { Z_95 } from '#shared/science/normal.ts';
import type { Ranged } from '#shared/views/recorded.ts';

/** A ferment of which yeast was kept, all of it measured as the yeast pitched was. */
export type PastCrop = {
  strainId: string;
  /** Yeast kept over yeast pitched, both in litres or both in kilograms [-]. */
  ratio: number;
  /** From pitching to the first crop [h]. */
  hours: number;
  /** Share alive by the first stain of the crop [-]; null when it was not stained. */
  viability: number | null;
};

/** What a ferment of a strain yields: living cells kept for each one pitched, and when. */
export type CropYield = {
  ratio: Ranged;
  ratioLogSd: number;
  hours: Ranged;
  /** Share alive when it is cropped [-]. */
  viability: Ranged;
  crops: number;
  basis: 'own crops' | 'common practice';
};

/** Crops of its own that a brewery needs before they are believed alone: a judgement. */
export const FEWEST_CROPS = 5;

/** A top crop kept of an ale, and when: common practice, no source. */
export const usualYield = {
  ratio: { value: 3, low: 1.5, high: 6 },
  hours: { value: 48, low: 36, high: 72 },
  viability: { value: 0.95, low: 0.9, high: 0.98 },
} as const;

/** The yield to reckon with for the next ferment, from a brewery's own crops of the strain. */
export function cropYield(past: readonly PastCrop[]): CropYield {
  if (past.length < FEWEST_CROPS)
    return {
      ...usualYield,
      ratioLogSd: logSdFromRange(usualYield.ratio),
      crops: past.length,
      basis: 'common practice',
    };
  const ratio = nextRatio(past.map(({ ratio }) => ratio));
  const alive = past.flatMap(({ viability }) => viability ?? []);
  return {
    ...ratio,
    hours: spread(past.map(({ hours }) => hours)),
    viability: alive.length === 0 ? usualYield.viability : spread(alive),
    crops: past.length,
    basis: 'own crops',
  };
}

// Log-normal; Student's t for the doubt about the spread, and 1 + 1/n for that about the mean.
function nextRatio(ratios: readonly number[]): { ratio: Ranged; ratioLogSd: number } {
  const n = ratios.length;
  const logs = ratios.map(Math.log);
  const mean = logs.reduce((sum, log) => sum + log, 0) / n;
  const squares = logs.reduce((sum, log) => sum + (log - mean) ** 2, 0);
  const factor = (studentTQuantile(0.975, n - 1) / Z_95) * Math.sqrt(1 + 1 / n);
  const ratioLogSd = factor * Math.sqrt(squares / (n - 1));
  const value = Math.exp(mean);
  const width = Math.exp(Z_95 * ratioLogSd);
  return { ratio: { value, low: value / width, high: value * width }, ratioLogSd };
}

/** Median, and the tenth and ninetieth of a hundred. */
function spread(values: readonly number[]): Ranged {
  const ordered = values.toSorted((a, b) => a - b);
  const at = (share: number) => ordered[Math.round(share * (ordered.length - 1))] ?? 0;
  return { value: at(0.5), low: at(0.1), high: at(0.9) };
}
