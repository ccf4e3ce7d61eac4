import type { Role } from '#shared/roles.ts';

/** The roles as people call them, and what each may do. */
export const roleWords: Record<Role, { name: string; may: string }> = {
  viewer: { name: 'Viewer', may: 'Reads everything, writes nothing.' },
  cellar: {
    name: 'Cellar hand',
    may: 'Crops, readings, chilling and racking, store temperatures, discards, holds.',
  },
  lab: { name: 'Lab', may: 'As a cellar hand; also counts, stains, plates and fresh culture.' },
  brewer: {
    name: 'Brewer',
    may: 'As a cellar hand; also collects, pitches, mixes, treats, plans, and sets up FVs.',
  },
  head: {
    name: 'Head brewer',
    may: 'Everything: limits of strains, releases, overrides, corrections of others, accounts.',
  },
};

export const roleNames = (roles: readonly Role[]) =>
  roles.map((role) => roleWords[role].name).join(', ');
