import { LibsqlError } from '@libsql/client';
import { DomainError } from '#shared/errors.ts';

const uniqueFields: Record<string, { path: string; message: string }> = {
  ferment_gyle_at_site: { path: 'gyle', message: 'Another ferment already bears this gyle number' },
  'ferment.planned_brew_id': {
    path: 'plannedBrewId',
    message: 'Another gyle carries this brew out already',
  },
  'lot.code': { path: 'code', message: 'Another lot already bears this code' },
  'strain.code': { path: 'code', message: 'Another strain already has this short code' },
  'site.name': { path: 'name', message: 'Another site already has this name' },
  'site.code': { path: 'code', message: 'Another site already has this short code' },
  vessel_name_at_site: { path: 'name', message: 'Another fermenter already has this name' },
  'rack.ferment_id': { path: 'fermentId', message: 'This ferment was already racked' },
  'chill.ferment_id': { path: 'fermentId', message: 'This ferment was already chilled' },
  'medium.name': { path: 'name', message: 'Another medium already has this name' },
  'family_release.hold_id': { path: 'holdId', message: 'This hold is lifted already' },
  'micro_result.check_id': { path: 'checkId', message: 'This check was already read' },
};

/** Runs a write; what the database refuses is told as a person would put it. */
export async function guarded(work: () => Promise<void>): Promise<void> {
  try {
    await work();
  } catch (error) {
    throw error instanceof LibsqlError ? (refusalOf(error.message) ?? error) : error;
  }
}

/** What the database's own refusal means to a person. */
function refusalOf(message: string): DomainError | undefined {
  const unique = /UNIQUE constraint failed: (?:index '(\w+)'|(\w+\.\w+))/.exec(message);
  const field = uniqueFields[unique?.[1] ?? unique?.[2] ?? ''];
  if (field !== undefined) return new DomainError('invalid', `${field.message}.`, [field]);
  if (message.includes('FOREIGN KEY'))
    return new DomainError(
      'conflict',
      'Other entries rest on this one (a pitch, a crop, a count …): strike those out first.',
    );
  const rule =
    /(yeast cannot descend from itself|a crop needs a ferment that was pitched|a crop was taken from this ferment: it needs its pitch)/.exec(
      message,
    )?.[1];
  return rule === undefined
    ? undefined
    : new DomainError('conflict', `${rule.slice(0, 1).toUpperCase()}${rule.slice(1)}.`);
}
