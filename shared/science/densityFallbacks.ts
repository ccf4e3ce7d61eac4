import type { Evidence } from './evidence.ts';
import { logSdFromRange } from './logNormalSum.ts';
import { refuse } from './refusal.ts';

type DensityFallback = {
  id: string;
  name: string;
  unit: 'mL' | 'g';
  /** All cells per mL or per g: central value and what is read as a 95 % range. */
  central: number;
  low: number;
  high: number;
  source: string;
  evidence: Evidence;
};

/** Cells in a yeast that nobody counted: a guess with an honest width. */
export const densityFallbacks: readonly DensityFallback[] = [
  {
    id: 'pressed',
    name: 'Pressed yeast, weighed',
    unit: 'g',
    central: 4.5e9,
    low: 3.5e9,
    high: 6.5e9,
    source: '20 to 27 % dry matter at 30 to 50 pg a cell; the usual pitch by weight at 0.75 to 1',
    evidence: 'derived',
  },
  {
    id: 'barm',
    name: 'Skimmed barm, weighed',
    unit: 'g',
    central: 1.8e9,
    low: 1.0e9,
    high: 3.3e9,
    source:
      'About 10 % dry matter at 30 to 50 pg a cell, or 40 % wet solids; never by volume, for gas',
    evidence: 'derived',
  },
  {
    id: 'thick',
    name: 'Thick slurry, 50 to 60 % solids',
    unit: 'mL',
    central: 1.9e9,
    low: 1.5e9,
    high: 2.5e9,
    source: 'Remembered trade figures',
    evidence: 'from memory',
  },
  {
    id: 'ordinary',
    name: 'Ordinary slurry, about 40 % solids',
    unit: 'mL',
    central: 1.3e9,
    low: 1.0e9,
    high: 1.8e9,
    source: 'Remembered trade figures; 0.4 g/mL of 4.5e9 cells/g is its upper end',
    evidence: 'from memory',
  },
  {
    id: 'thin',
    name: 'Thin or rinsed slurry, 10 to 20 % spun',
    unit: 'mL',
    central: 0.5e9,
    low: 0.3e9,
    high: 0.8e9,
    source: 'Remembered trade figures',
    evidence: 'from memory',
  },
  {
    id: 'unknown',
    name: 'Slurry of unknown thickness',
    unit: 'mL',
    central: 1.2e9,
    low: 0.25e9,
    high: 4e9,
    source: 'Spread of typical figures in circulation; settled slurry about 1,200 million/mL',
    evidence: 'second hand',
  },
];

/** Cells per mL for each percent of spun solids [cells/mL/%]: derived, to be replaced by one's own. */
const cellsPerMlPerSpunPercent = { central: 3.4e7, low: 2.5e7, high: 4.5e7 } as const;

/**
 * Cells in a slurry from its spun solids.
 *
 *   3.4e7 cells/mL per 1 %, 2.5e7 to 4.5e7
 *
 * @param spunPercent  yeast layer after spinning [% of volume], above 0 and at most 100
 * @returns cells [cells/mL] with a 95 % range
 * @throws RangeError outside the bounds above
 *
 * Trub counted as yeast reads high: leave the darker bands out. Source: derived from cells per gram.
 */
export function cellsPerMlFromSpunSolids(spunPercent: number) {
  if (!(spunPercent > 0 && spunPercent <= 100)) {
    refuse('cellsPerMlFromSpunSolids', 'spunPercent must be above 0 to 100', spunPercent);
  }
  const { central, low, high } = cellsPerMlPerSpunPercent;
  return {
    cellsPerMl: central * spunPercent,
    low: low * spunPercent,
    high: high * spunPercent,
    logSd: logSdFromRange({ low, high }),
  };
}
