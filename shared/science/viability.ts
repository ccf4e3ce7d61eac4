import { wilsonInterval } from './proportionInterval.ts';
import { type StainName, stainOf } from './stains.ts';

/** Cells to read before a viability means much: remembered practice, 1000 for reference work. */
export const CELLS_TO_STAIN = 400;

export type Viability = {
  percent: number;
  low: number;
  high: number;
  cellsCounted: number;
  validity: 'valid' | 'at or below';
  floorPercent: number;
  note: string;
};

/**
 * Share of living cells from a stained sample, with its 95 % interval and whether the stain is valid.
 *
 *   100 live / (live + dead), interval by Wilson
 *
 * @param reading  live and dead [cells], whole, >= 0, not both 0, and the stain
 * @returns viability [%] 0 to 100; 'at or below' under the floor of the stain, where the true figure
 *   may be much lower
 * @throws RangeError outside the bounds above
 *
 * Valid on fresh yeast; stains read old, stressed yeast too high. Source: [Wilson1927]; [JIB1959].
 */
export function viabilityFromStain(reading: {
  live: number;
  dead: number;
  stain: StainName;
}): Viability {
  const cellsCounted = reading.live + reading.dead;
  const { low, high } = wilsonInterval(reading.live, cellsCounted);
  const { floorPercent, measures } = stainOf(reading.stain);
  const percent = (100 * reading.live) / cellsCounted;
  const validity = percent < floorPercent ? 'at or below' : 'valid';
  const floorNote =
    validity === 'valid'
      ? ''
      : `Below ${floorPercent} % this stain reads too high: take it as this figure or worse. `;
  const fewNote =
    cellsCounted < CELLS_TO_STAIN
      ? ` Only ${cellsCounted} cells: read ${CELLS_TO_STAIN} for a narrower range.`
      : '';
  return {
    percent,
    low: 100 * low,
    high: 100 * high,
    cellsCounted,
    validity,
    floorPercent,
    note: `${floorNote}Shows: ${measures.charAt(0).toLowerCase()}${measures.slice(1)}.${fewNote}`,
  };
}
