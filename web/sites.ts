import { computed, effect } from '@preact/signals';
import { hasSites, type SiteKey } from '#shared/sites/site.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { Setup } from '#shared/views/setup.ts';
import { setup } from './settings.ts';
import { signedIn } from './signedIn.ts';
import { allSites, chosenSite } from './siteChoice.ts';

/** The sites, the first one first; none while there is only one, and nobody hears of it then. */
export const sites = computed((): readonly Recorded<'site'>[] => {
  const { sites: known = [], homeId = null } = setup.value ?? {};
  return hasSites(known) ? sitesInOrder(known, homeId) : [];
});

/** The first one first, then by name. */
export const sitesInOrder = (known: readonly Recorded<'site'>[], homeId: string | null) =>
  known.toSorted(
    (a, b) => Number(b.id === homeId) - Number(a.id === homeId) || a.name.localeCompare(b.name),
  );

/** The sites this person has to do with. */
export const ownSites = computed(() => {
  const { roles = [], siteRoles = [] } = signedIn.value ?? {};
  if (roles.length > 0) return sites.value;
  return sites.value.filter(({ id }) => siteRoles.some(({ siteId }) => siteId === id));
});

export const maySeeAll = computed(() => ownSites.value.length === sites.value.length);

/** The id of the site looked at; null for all of them, and in a brewery with one. */
export const siteLookedAt = computed((): string | null => {
  if (sites.value.length === 0 || chosenSite.value === allSites) return null;
  return chosenSite.value ?? setup.value?.siteId ?? null;
});

export const isOfAll = computed(() => sites.value.length > 0 && siteLookedAt.value === null);

/** The id of a site by its key; null in a brewery that names none. */
export const siteIdOf = (site: SiteKey | undefined): string | null =>
  site ?? setup.value?.homeId ?? null;

/** What a site is called; undefined in a brewery with one. */
export const siteName = (site: SiteKey | undefined): string | undefined =>
  sites.value.find(({ id }) => id === siteIdOf(site))?.name;

/** The same, and undefined too where it is the very site looked at. */
export const siteElsewhere = (site: SiteKey | undefined): string | undefined =>
  siteIdOf(site) === siteLookedAt.value ? undefined : siteName(site);

/** A name with its site, as on paper where nothing else tells which site is meant. */
export const withSite = (name: string, site: SiteKey): string =>
  [name, siteName(site)].filter((part) => part !== undefined).join(' · ');

/** What is called the same at two sites, told apart where more than one may be meant. */
export const atItsSite = (name: string, site: SiteKey | undefined): string =>
  [name, siteElsewhere(site)].filter((part) => part !== undefined).join(' · ');

/** The id of the site a brew is planned at: its own, else that of its FV; undefined is the first. */
export const siteOfBrew = (
  { siteId, vesselId }: Recorded<'plannedBrew'>,
  { vessels }: Pick<Setup, 'vessels'>,
): string | undefined => siteId ?? vessels.find(({ id }) => id === vesselId)?.siteId;

// A choice kept from another log, or made by another person, is not this one's.
effect(() => {
  const chosen = chosenSite.value;
  if (chosen === null || setup.value === null || !signedIn.value) return;
  const isTheirs =
    chosen === allSites ? maySeeAll.value : ownSites.value.some(({ id }) => id === chosen);
  if (sites.value.length === 0 || !isTheirs) chosenSite.value = null;
});
