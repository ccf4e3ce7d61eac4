import type { EntryOf } from '../entries/entry.ts';
import type { FieldError } from '../errors.ts';
import type { EntryContext, PlannedBrewFacts } from './entryContext.ts';

const brewOf = ({ plannedBrewId }: EntryOf<'ferment'>, { plannedBrews }: EntryContext) =>
  plannedBrews.get(plannedBrewId ?? '');

/** Why a gyle cannot carry out the planned brew it names: a brew is brewed once. */
export function carriedOutTwice(entry: EntryOf<'ferment'>, context: EntryContext): FieldError[] {
  const by = brewOf(entry, context)?.carriedOutBy;
  return by === undefined || by.id === context.recordId
    ? []
    : [
        {
          path: 'plannedBrewId',
          message: `Gyle ${by.gyle} carries this brew out already: choose another, or none`,
        },
      ];
}

/** What to look at again in a gyle beside its plan: it was brewed so, so it is recorded. */
export function otherStrainWarnings(entry: EntryOf<'ferment'>, context: EntryContext): string[] {
  const brew = brewOf(entry, context);
  return brew === undefined || brew.strainId === entry.strainId
    ? []
    : [`${brew.beer} was planned with another strain: check the strain.`];
}

/** Why a planned brew cannot be struck out: a gyle names it; undefined when it can. */
export const strikingRefusal = (
  carriedOutBy: PlannedBrewFacts['carriedOutBy'],
): string | undefined =>
  carriedOutBy &&
  `Gyle ${carriedOutBy.gyle} carries this brew out: correct the gyle first, so that it names another or none.`;
