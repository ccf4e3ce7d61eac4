import type { LotInStore, PlannedBrew } from '#shared/science/planAllocation.ts';

/** A planned brew of the one strain these plans have. */
export const brew = (
  id: string,
  atHours: number,
  neededCells: number,
  more: Partial<PlannedBrew> = {},
): PlannedBrew => Object.freeze({ id, strainId: 'north', atHours, neededCells, ...more });

/** A lot of that strain, in its second generation, ready from the start. */
export const lot = (
  id: string,
  viableCells: number,
  expiresAtHours: number,
  more: Partial<LotInStore> = {},
): LotInStore =>
  Object.freeze({
    id,
    strainId: 'north',
    readyAtHours: 0,
    expiresAtHours,
    viableCells,
    generation: 2,
    ...more,
  });
