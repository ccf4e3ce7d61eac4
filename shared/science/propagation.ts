import { refuse, requirePositive } from './refusal.ts';

type PropagationPlan = {
  /** Volume of the last step that holds the cells needed. */
  neededVolumeL: number;
  startHours: number;
  steps: PropagationStep[];
};

export type PropagationStep = {
  volumeL: number;
  /** Over the volume before it; of the first, over nothing: it is seeded from the slope. */
  stepRatio: number | undefined;
  startHours: number;
  endHours: number;
  /** At the start, from the step before; undefined from the slope. */
  startingCellsPerMl: number | undefined;
  endingCellsPerMl: number;
};

/** Usual figures: first tube as published; density by aeration, hours and step as published by yeast laboratories. */
export const PROPAGATION_DEFAULTS = {
  firstVolumeL: 0.01,
  greatestStepRatio: 10,
  hoursPerStep: 48,
  stillCellsPerMl: 50e6,
  aeratedCellsPerMl: 150e6,
  /** Smaller steps stand still; from here on they are shaken or aerated: a judgement. */
  aeratedFromL: 0.1,
} as const;

/**
 * Steps from a slope to the cells a brew needs, worked backwards and dated.
 *
 *   volume = cells / density;  steps = ceil(log(volume / first) / log(greatest ratio)), all in one ratio
 *
 * @param need  neededCells [cells] > 0; readyAtHours, when they are wanted [h on any clock]; and, where
 *   they differ from the usual: firstVolumeL, greatestStepRatio > 1, hoursPerStep, stillCellsPerMl,
 *   aeratedCellsPerMl, aeratedFromL, all > 0
 * @returns volume needed, hour to start, and the steps in the order in which they are made
 * @throws RangeError outside the bounds above
 *
 * Each step is taken at its peak. Source: step of at most ten and 24 to 72 h a step, common advice of
 * yeast laboratories; still 50 million/mL [BokulichBamforth2017]; aerated 100 to 200 million/mL.
 */
export function propagationPlan(
  need: { neededCells: number; readyAtHours: number } & Partial<
    Record<keyof typeof PROPAGATION_DEFAULTS, number>
  >,
): PropagationPlan {
  const { neededCells, readyAtHours, ...changes } = need;
  const figures = { ...PROPAGATION_DEFAULTS, ...changes };
  const { firstVolumeL, greatestStepRatio, hoursPerStep, aeratedFromL } = figures;
  for (const [name, figure] of Object.entries({ neededCells, ...figures })) {
    requirePositive('propagationPlan', name, figure);
  }
  if (!(greatestStepRatio > 1))
    refuse('propagationPlan', 'greatestStepRatio must be > 1', greatestStepRatio);
  if (!Number.isFinite(readyAtHours)) {
    refuse('propagationPlan', 'readyAtHours must be finite', readyAtHours);
  }
  const densityOf = (volumeL: number) =>
    volumeL < aeratedFromL ? figures.stillCellsPerMl : figures.aeratedCellsPerMl;
  const neededVolumeL = volumeFor(neededCells, figures);
  const span = neededVolumeL / firstVolumeL;
  // A hair under, so that exactly ten times is one step and not two.
  const jumps = Math.max(0, Math.ceil(Math.log(span) / Math.log(greatestStepRatio) - 1e-9));
  const ratio = jumps > 0 ? span ** (1 / jumps) : 1;
  const steps = Array.from({ length: jumps + 1 }, (_, step): PropagationStep => {
    const volumeL = neededVolumeL / ratio ** (jumps - step);
    const endHours = readyAtHours - hoursPerStep * (jumps - step);
    const isFirst = step === 0;
    return {
      volumeL,
      stepRatio: isFirst ? undefined : ratio,
      startHours: endHours - hoursPerStep,
      endHours,
      startingCellsPerMl: isFirst ? undefined : densityOf(volumeL / ratio) / ratio,
      endingCellsPerMl: densityOf(volumeL),
    };
  });
  return { neededVolumeL, startHours: readyAtHours - hoursPerStep * (jumps + 1), steps };
}

/** A volume small enough to stand still is reckoned at the lower density. */
function volumeFor(
  cells: number,
  figures: { stillCellsPerMl: number; aeratedCellsPerMl: number; aeratedFromL: number },
): number {
  const aerated = cells / figures.aeratedCellsPerMl / 1000;
  if (aerated >= figures.aeratedFromL) return aerated;
  return Math.min(cells / figures.stillCellsPerMl / 1000, figures.aeratedFromL);
}

/**
 * Cells in each mL of a brew into which a whole propagation is pitched.
 *
 *   density x propagation volume / brew volume
 *
 * @param propagationL  volume pitched [L], > 0
 * @param cellsPerMl  its density [cells/mL], > 0
 * @param brewL  volume of the brew [L], > 0
 * @returns density in the brew [cells/mL]
 * @throws RangeError outside the bounds above
 *
 * The brew's volume is taken as without the propagation. Source: conservation of cells.
 */
export function pitchedFromPropagation(
  propagationL: number,
  cellsPerMl: number,
  brewL: number,
): number {
  requirePositive('pitchedFromPropagation', 'propagationL', propagationL);
  requirePositive('pitchedFromPropagation', 'cellsPerMl', cellsPerMl);
  requirePositive('pitchedFromPropagation', 'brewL', brewL);
  return (cellsPerMl * propagationL) / brewL;
}
