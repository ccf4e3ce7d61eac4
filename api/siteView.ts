import type { Context } from 'hono';
import type { Account } from '#db/accounts.ts';
import type { SiteScope } from '#db/siteScope.ts';
import { listSites, scopeOf } from '#db/sites.ts';
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

/** As every screen that shows one site documents it. */
export const siteParameter = {
  site: {
    type: 'string',
    description: 'The id of the site; when left out, the first one the caller has a role at',
  },
} as const;

/**
 * The site asked for with `?site=`, else the first one the caller has a role at.
 * @throws DomainError `not_found` when there is no such site
 */
export async function siteViewOf({ database }: Services, context: Context): Promise<SiteView> {
  const brewery = await breweryOf(database);
  const sites = await listSites(database.query);
  const asked = context.req.query('site');
  const chosen = asked ?? (hasSites(sites) ? usualSite(sites, accountOf(context))?.id : undefined);
  const at = scopeOf(sites, chosen);
  const site = sites.find(({ id }) => id === chosen) ?? null;
  return { brewery, sites, site, at, timeZone: site?.timeZone ?? brewery?.timeZone ?? 'UTC' };
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
