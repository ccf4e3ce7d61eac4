import type { Evidence } from './evidence.ts';
import { refuse } from './refusal.ts';

export const chamberIds = [
  'improved Neubauer, medium squares',
  'improved Neubauer, large squares',
  'improved Neubauer, corner squares',
  'Thoma, groups of 16',
  'Bürker, group squares',
  'own',
] as const;
export type ChamberId = (typeof chamberIds)[number];

/** [mm]. Some chambers made for bacteria are 0.02 mm deep: five times the concentration. */
const USUAL_DEPTH_MM = 0.1;

type ChamberRuling = {
  id: ChamberId;
  /** Area of one square that is counted as one [mm²]; undefined where the brewery gives its own. */
  squareAreaMm2: number | undefined;
  depthMm: number;
  /** Such squares on one side of the slide. */
  squaresInRuling: number | undefined;
  /** Squares people usually count on a side, and which. */
  usualSquares: number;
  usualChoice: string;
  evidence: Evidence;
};

/** Rulings of counting chambers, after their makers' manuals; which squares are usual is from memory. */
export const chamberRulings: readonly ChamberRuling[] = [
  {
    id: 'improved Neubauer, medium squares',
    squareAreaMm2: 0.04,
    depthMm: USUAL_DEPTH_MM,
    squaresInRuling: 25,
    usualSquares: 5,
    usualChoice: 'The four corners and the middle of the 25; all 25 when cells are sparse',
    evidence: 'published',
  },
  {
    id: 'improved Neubauer, large squares',
    squareAreaMm2: 1,
    depthMm: USUAL_DEPTH_MM,
    squaresInRuling: 9,
    usualSquares: 1,
    usualChoice: 'The whole centre square; the four corner squares as well when cells are sparse',
    evidence: 'published',
  },
  {
    id: 'improved Neubauer, corner squares',
    squareAreaMm2: 0.0625,
    depthMm: USUAL_DEPTH_MM,
    squaresInRuling: 64,
    usualSquares: 10,
    usualChoice: 'Any of the 16 squares in each of the four corner squares, chosen before looking',
    evidence: 'published',
  },
  {
    id: 'Thoma, groups of 16',
    squareAreaMm2: 0.04,
    depthMm: USUAL_DEPTH_MM,
    squaresInRuling: 16,
    usualSquares: 5,
    usualChoice:
      'Groups of 16 small squares between the separating lines: four corners and one more',
    evidence: 'from memory',
  },
  {
    id: 'Bürker, group squares',
    squareAreaMm2: 0.04,
    depthMm: USUAL_DEPTH_MM,
    squaresInRuling: 144,
    usualSquares: 10,
    usualChoice: 'Squares of 0.2 mm side between the double lines, spread over the ruling',
    evidence: 'from memory',
  },
  {
    id: 'own',
    squareAreaMm2: undefined,
    depthMm: USUAL_DEPTH_MM,
    squaresInRuling: undefined,
    usualSquares: 5,
    usualChoice: 'Read the area of a square and the depth off the plate of the chamber',
    evidence: 'derived',
  },
];

/**
 * The ruling of a chamber by its name.
 *
 * @param id  one of chamberIds
 * @returns areas [mm²], depth [mm] and the squares people count
 * @throws RangeError when there is no such ruling
 *
 * Valid for the depth on the plate of the chamber in hand. Source: makers' manuals; [ASBC-Yeast-4].
 */
export function chamberRuling(id: ChamberId): ChamberRuling {
  return (
    chamberRulings.find((ruling) => ruling.id === id) ??
    refuse('chamberRuling', 'id must name a ruling', id)
  );
}
