/** Where a gyle is collected; one that carries out a planned brew takes its figures along. */
export const collectHref = (plannedBrewId?: string): string =>
  plannedBrewId === undefined ? '/ferments/new' : `/ferments/new?planned=${plannedBrewId}`;
