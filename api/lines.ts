import { sitesOfLine } from '#db/reads/lines.ts';
import { everySite } from '#db/sites/siteScope.ts';
import { lineSummary } from '#shared/lines/lineStanding.ts';
import { hasSites } from '#shared/sites/site.ts';
import type { LineAtSite, LineSheetAtSite } from '#shared/views/lines.ts';
import type { Services } from './context.ts';
import { type SiteView, viewsOfEach } from './siteView.ts';
import { currentLines, oneLine } from './standings.ts';

/** The lines of the site looked at; of several, those of each after another. */
export async function linesOf({ database }: Services, view: SiteView): Promise<LineAtSite[]> {
  const each = viewsOfEach(view);
  const lines: LineAtSite[] = [];
  for (const { at } of each.length === 0 ? [view] : each)
    for (const line of await currentLines(database, at))
      lines.push({ ...lineSummary(line), siteId: at?.key ?? null });
  return lines;
}

/**
 * A line at the site looked at, else at the first where it has been.
 * @throws DomainError `not_found` when there is no such line
 */
export async function lineOf(
  { database }: Services,
  { sites, at: looked }: SiteView,
  id: string,
): Promise<LineSheetAtSite> {
  if (!hasSites(sites))
    return { ...(await oneLine(database, id, everySite)), siteId: null, sites: [] };
  const places = await sitesOfLine(database.query, id);
  const [first = null] = places;
  const key = looked !== undefined && places.includes(looked.key) ? looked.key : first;
  return { ...(await oneLine(database, id, { key })), siteId: key, sites: places };
}
