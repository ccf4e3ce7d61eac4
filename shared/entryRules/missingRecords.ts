import type { RecordEntry } from '../entries/entry.ts';
import type { FieldError } from '../errors.ts';
import type { EntryContext } from './entryContext.ts';

/** Which of the records an entry names are not in the log. */
export function missingRecords(entry: RecordEntry, context: EntryContext): FieldError[] {
  const errors: FieldError[] = [];
  const need = (path: string, known: unknown, what: string) => {
    if (known === undefined) errors.push({ path, message: `There is no such ${what} in the log` });
  };
  if ('lotId' in entry && entry.lotId !== undefined)
    need('lotId', context.lots.get(entry.lotId), 'lot');
  if ('fermentId' in entry && entry.fermentId !== undefined)
    need('fermentId', context.ferment, 'ferment');
  if ('strainId' in entry) need('strainId', context.strain, 'strain');
  if ('vesselId' in entry && entry.vesselId !== undefined)
    need('vesselId', context.vessel, 'fermenter');
  if ('checkId' in entry) need('checkId', context.check, 'check');
  if ('holdId' in entry) need('holdId', context.familyHold, 'hold');
  if (entry.kind === 'allotment') {
    const { plannedBrewId, fromLotId, fromFermentId, fromBrewId } = entry;
    need('plannedBrewId', context.plannedBrews.get(plannedBrewId), 'planned brew');
    if (fromLotId !== undefined) need('fromLotId', context.lots.get(fromLotId), 'lot');
    if (fromFermentId !== undefined) need('fromFermentId', context.ferment, 'ferment');
    if (fromBrewId !== undefined)
      need('fromBrewId', context.plannedBrews.get(fromBrewId), 'planned brew');
  }
  if (entry.kind === 'ferment' && entry.plannedBrewId != null)
    need('plannedBrewId', context.plannedBrews.get(entry.plannedBrewId), 'planned brew');
  if (entry.kind === 'blend')
    entry.parents.forEach((parent, index) => {
      need(`parents.${index}.lotId`, context.lots.get(parent.lotId), 'lot');
    });
  return errors;
}
