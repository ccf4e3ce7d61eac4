import type { Context } from 'hono';
import * as z from 'zod/mini';
import type { Account } from '#db/people/accounts.ts';
import { everySite, type SiteScope } from '#db/sites/siteScope.ts';
import { listSites, scopeOf } from '#db/sites/sites.ts';
import { reference } from '#shared/fields.ts';
import { hasSites, type Site } from '#shared/sites/site.ts';
import type { Recorded } from '#shared/views/recorded.ts';
import type { Services } from './context.ts';
import { breweryOf } from './standings.ts';

/** The site a person is looking at; everything in a brewery with one site. */
export type SiteView = {
  brewery: Recorded<'brewery'> | null;
  sites: Site[];
  site: Site | null;
  at: SiteScope;
  timeZone: string;
};

/** As `?site=` says that every site is meant. */
const all = 'all';

const usualSiteWords = 'The id of the site; when left out, the first one the caller has a role at';

export const siteQuery = z.strictObject({
  site: z.optional(reference('The site').check(z.describe(usualSiteWords))),
});

/** The same where a list may also be of all sites together. */
export const sitesQuery = z.strictObject({
  site: z.optional(
    z
      .union([z.literal(all), reference('The site')])
      .check(z.describe(`${usualSiteWords}; \`${all}\` for all of them`)),
  ),
});

/**
 * The site asked for with `?site=`, all of them for `all`, else the first one the caller has a role at.
 * @throws DomainError `not_found` when there is no such site
 */
export async function siteViewOf({ database }: Services, context: Context): Promise<SiteView> {
  const brewery = await breweryOf(database);
  const sites = await listSites(database.query);
  const asked = context.req.query('site');
  if (asked === all)
    return { brewery, sites, site: null, at: everySite, timeZone: brewery?.timeZone ?? 'UTC' };
  const chosen = asked ?? (hasSites(sites) ? usualSite(sites, accountOf(context))?.id : undefined);
  const at = scopeOf(sites, chosen);
  const site = sites.find(({ id }) => id === chosen) ?? null;
  return { brewery, sites, site, at, timeZone: site?.timeZone ?? brewery?.timeZone ?? 'UTC' };
}

/** The view of each site on its own, where the view asked for is of several. */
export function viewsOfEach(view: SiteView): (SiteView & { site: Site })[] {
  if (view.site !== null || !hasSites(view.sites)) return [];
  return view.sites.map((site) => ({
    ...view,
    site,
    at: scopeOf(view.sites, site.id),
    timeZone: site.timeZone ?? view.timeZone,
  }));
}

function usualSite(sites: readonly Site[], account: Account | undefined): Site | undefined {
  const isEverywhere = account === undefined || account.roles.length > 0;
  return isEverywhere
    ? sites[0]
    : sites.find(({ id }) => account.siteRoles.some(({ siteId }) => siteId === id));
}

function accountOf(context: Context): Account | undefined {
  const caller = context.get('caller');
  return caller === undefined || caller.kind === 'device' ? undefined : caller.account;
}
