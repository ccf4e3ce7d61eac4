import type { Role, SiteRole } from '#shared/roles.ts';
import { siteName } from './sites.ts';

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

/** What a person holds, in words: "Brewer, Lab at Weir". */
export function roleNames({ roles, siteRoles = [] }: HeldRoles): string {
  const everywhere = roles.map((role) => roleWords[role].name);
  const atSites = siteRoles.flatMap(({ role, siteId }) => {
    const site = siteName(siteId);
    return site === undefined ? [] : [`${roleWords[role].name} at ${site}`];
  });
  return [...everywhere, ...atSites].join(', ');
}

type HeldRoles = { roles: readonly Role[]; siteRoles?: readonly SiteRole[] };
