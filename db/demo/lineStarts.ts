import type { Brewery } from './brew.ts';
import { freshCulture } from './cropping.ts';
import { cellsWanted } from './ferment.ts';
import type { Beer, StrainName } from './house.ts';
import type { Lot } from './lots.ts';

type LineStart = {
  origin: 'bought' | 'propagation';
  isTiring?: boolean;
  note?: string;
};

/** Where each line begins, by week. Tern in the seventieth is the present line. */
export const lineStarts: Record<StrainName, Readonly<Record<number, LineStart>>> = {
  Tern: {
    0: { origin: 'propagation' },
    9: { origin: 'bought' },
    18: { origin: 'propagation' },
    27: { origin: 'propagation', note: 'Nine generations planned, then fresh again' },
    36: { origin: 'bought', isTiring: true },
    46: { origin: 'propagation', note: 'Takes over from a line that had grown slow' },
    53: { origin: 'bought', note: 'After the wild yeast: nothing of the old line is kept' },
    62: { origin: 'propagation' },
    70: { origin: 'propagation' },
  },
  Fulmar: {
    0: { origin: 'bought' },
    11: { origin: 'propagation' },
    23: { origin: 'propagation' },
    34: { origin: 'bought' },
    46: { origin: 'propagation' },
    57: { origin: 'propagation' },
    69: { origin: 'bought' },
  },
};

/** The yeast in hand of one strain, and how its line fares. */
export type InHand = { lots: readonly Lot[]; isTiring: boolean };

/** Brings in fresh culture in the weeks a line begins; otherwise the yeast in hand stays. */
export function renewed(
  brewery: Brewery,
  name: StrainName,
  inHand: InHand,
  { week, brewDay, beer }: { week: number; brewDay: number; beer: Beer },
): InHand {
  const start = lineStarts[name][week];
  if (start === undefined) return inHand;
  const { calendar, house, store } = brewery;
  for (const lot of inHand.lots) {
    const ms = calendar.at(brewDay, 8.2);
    store.temperatures(lot, ms);
    store.discard(lot, ms, 'The line ends, fresh culture is in');
  }
  const originalGravitySg = beer.originalGravitySg;
  const volumeL = house.vessels.FV2.brewLengthL;
  const cells = cellsWanted(house.strains[name], { volumeL, originalGravitySg });
  const ms = calendar.at(brewDay - 1, 15);
  const { isTiring = false, ...facts } = start;
  return {
    lots: [freshCulture(brewery, house.strains[name], { ms, cells, ...facts })],
    isTiring,
  };
}
