import type { Evidence } from './evidence.ts';
import { refuse } from './refusal.ts';

export const stainNames = [
  'methylene blue',
  'citrate methylene violet',
  'alkaline methylene violet',
  'propidium iodide',
  'slide culture',
  'other',
] as const;
export type StainName = (typeof stainNames)[number];

/**
 * Reading below which a stain over-reads live cells too much to be divided by [%]. General teaching;
 * other authors are remembered at 85 and at 95.
 */
const STAIN_FLOOR_PERCENT = 90;

export type Stain = {
  name: StainName;
  measures: string;
  practice: string;
  /** Readings below this are "this or worse" [%]; 0 where the method has no such limit. */
  floorPercent: number;
  floorSource: string;
  evidence: Evidence;
  caution: string;
};

const usualFloor = {
  floorPercent: STAIN_FLOOR_PERCENT,
  floorSource:
    'General teaching on methylene blue; stains read right on fresh yeast and too high on old yeast ' +
    '(Journal of the Institute of Brewing 1959, 65:424; O’Connor-Cox 1997, MBAA TQ 34:306)',
} as const;

export const stains: readonly Stain[] = [
  {
    name: 'methylene blue',
    measures: 'Cells that still turn the dye colourless; dead cells stay dark blue',
    practice: '0.01 % dye in 2 % sodium citrate, one part to one part, read within 10 minutes',
    ...usualFloor,
    evidence: 'second hand',
    caution: 'Harmful if swallowed and listed among known mutagens: wear gloves. It stains.',
  },
  {
    name: 'citrate methylene violet',
    measures: 'Cells that still turn the dye colourless, with fewer pale shades than the blue',
    practice: '0.01 % dye in 2 % sodium citrate, one part to one part, read within 10 minutes',
    ...usualFloor,
    evidence: 'from memory',
    caution: 'Treat it like methylene blue: harmful, perhaps mutagenic. Wear gloves. It stains.',
  },
  {
    name: 'alkaline methylene violet',
    measures:
      'Activity of the cells: it reads lower than the other stains, so compare only with itself',
    practice: 'Glycine buffer at about pH 10.6, 15 minutes',
    ...usualFloor,
    evidence: 'from memory',
    caution: 'Alkaline: protect eyes and skin. Otherwise as methylene blue.',
  },
  {
    name: 'propidium iodide',
    measures: 'Whether the cell wall and membrane keep the dye out; marks cells that cannot grow',
    practice: 'Read under fluorescence, by the instructions of the dye',
    ...usualFloor,
    evidence: 'published',
    caution:
      'Harmful if swallowed, irritant; treat it as a mutagen. Wear gloves, collect the waste.',
  },
  {
    name: 'slide culture',
    measures: 'Cells that can divide: micro-colonies grown overnight, the reference for the stains',
    practice: 'Yeast on wort agar under a cover slip, counted after a night',
    floorPercent: 0,
    floorSource:
      'Counts the dividing cells themselves (Journal of the Institute of Brewing 1959, 65:424)',
    evidence: 'published',
    caution: 'Live cultures: clean up with a disinfectant.',
  },
  {
    name: 'other',
    measures: 'What its own instructions say',
    practice: 'By its own instructions',
    ...usualFloor,
    evidence: 'from memory',
    caution: 'Read the safety sheet of the dye first.',
  },
];

/**
 * The entry of a stain by its name.
 *
 * @param name  one of stainNames
 * @returns what it measures, its floor [%] and its caution
 * @throws RangeError when there is no such stain
 *
 * Valid for the practice described with each. Source: named in each entry.
 */
export function stainOf(name: StainName): Stain {
  return (
    stains.find((stain) => stain.name === name) ?? refuse('stainOf', 'name must be a stain', name)
  );
}
