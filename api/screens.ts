import { Hono } from 'hono';
import { vesselsInUse } from '#db/reads/ferments.ts';
import { entriesAbout } from '#db/reads/history.ts';
import { lotIdsInStore } from '#db/reads/lots.ts';
import { overridesOn } from '#db/reads/overrides.ts';
import { allRecords, getRecord } from '#db/reads/records.ts';
import { mediaInUse } from '#shared/micro/media.ts';
import { hasSites } from '#shared/sites/site.ts';
import type { FermentSheet } from '#shared/views/ferments.ts';
import type { Setup } from '#shared/views/setup.ts';
import type { RouteDoc } from './apiDocument.ts';
import { readers } from './auth/who.ts';
import type { Services } from './context.ts';
import { fermentPages } from './fermentStandings.ts';
import { lineOf, linesOf } from './lines.ts';
import { notYetBrewed } from './plan.ts';
import { type SiteView, siteQuery, sitesQuery, siteViewOf } from './siteView.ts';
import { currentFerments, lotStandings, theOnly } from './standings.ts';
import { todayOf } from './today.ts';
import { queryOf } from './validate.ts';

export function screenRoutes(services: Services) {
  const { database, now } = services;
  return new Hono()
    .get('/today', queryOf(sitesQuery), async (context) =>
      context.json(await todayOf(services, await siteViewOf(services, context)), 200),
    )
    .get('/setup', queryOf(sitesQuery), async (context) =>
      context.json(await setup(services, await siteViewOf(services, context)), 200),
    )
    .get('/lots/in-store', queryOf(sitesQuery), async (context) => {
      const { at } = await siteViewOf(services, context);
      const ids = await lotIdsInStore(database.query, at);
      return context.json({ items: await lotStandings(database, ids, now()) }, 200);
    })
    .get('/lots/:id/standing', async (context) => {
      const id = context.req.param('id');
      const standing = theOnly(await lotStandings(database, [id], now()));
      const history = await entriesAbout(database.query, 'lotId', id);
      const overrides = await overridesOn(database.query, [id]);
      return context.json({ ...standing, history, overrides }, 200);
    })
    .get('/ferments/current', queryOf(sitesQuery), async (context) => {
      const { at } = await siteViewOf(services, context);
      return context.json({ items: await currentFerments(database, now(), at) }, 200);
    })
    .get('/ferments/:id/standing', async (context) => {
      const id = context.req.param('id');
      const page = theOnly(await fermentPages(database, [id], now()));
      const { plannedBrewId } = page.record;
      const sheet: FermentSheet = {
        ...page,
        overrides: await overridesOn(database.query, [id]),
        planned:
          plannedBrewId == null
            ? null
            : await getRecord(database.query, 'plannedBrew', plannedBrewId),
      };
      return context.json(sheet, 200);
    })
    .get('/lines', queryOf(sitesQuery), async (context) => {
      const view = await siteViewOf(services, context);
      return context.json({ items: await linesOf(services, view) }, 200);
    })
    .get('/lines/:id', queryOf(siteQuery), async (context) => {
      const view = await siteViewOf(services, context);
      return context.json(await lineOf(services, view, context.req.param('id')), 200);
    });
}

async function setup(
  { database, now }: Services,
  { brewery, sites, site, at, timeZone }: SiteView,
): Promise<Setup> {
  const { toCome, passed } = await notYetBrewed(database.query, now(), { at, timeZone });
  return {
    brewery,
    strains: await allRecords(database.query, 'strain'),
    vessels: await vesselsInUse(database.query, at),
    plannedBrews: toCome,
    notBrewed: passed,
    media: mediaInUse(await allRecords(database.query, 'medium')),
    sites: sites.length === 0 ? [] : await allRecords(database.query, 'site'),
    homeId: sites[0]?.id ?? null,
    siteId: hasSites(sites) ? (site?.id ?? null) : null,
  };
}

const answer = (description: string) => ({ 200: { description } });

export const screenDocs: readonly RouteDoc[] = [
  {
    method: 'get',
    path: '/api/today',
    tag: 'Standing',
    who: readers,
    query: sitesQuery,
    summary: 'What to do, in order of urgency',
    answers: answer('`at`, and `actions`: urgency, title, detail, where to do it'),
  },
  {
    method: 'get',
    path: '/api/setup',
    tag: 'Standing',
    who: readers,
    query: sitesQuery,
    summary:
      'The brewery, its strains and limits, its fermenters, its brews planned and not yet brewed',
    answers: answer(
      '`brewery` (null before set-up), `strains`, `vessels`, `plannedBrews`, `notBrewed` (planned for the last 14 days, and no gyle came of them), `media`',
    ),
  },
  {
    method: 'get',
    path: '/api/lots/in-store',
    tag: 'Standing',
    who: readers,
    query: sitesQuery,
    summary: 'Every lot of which something is left, with its verdict',
    answers: answer(
      '`items`: code, generation, what is left (L or kg), count and stain with their 95 % ranges, verdict with reasons',
    ),
  },
  {
    method: 'get',
    path: '/api/lots/{id}/standing',
    tag: 'Standing',
    who: readers,
    summary: 'One lot with its verdict',
    answers: answer(
      'As in the list of lots in store, with `history`: every entry about it; and `overrides`: what was pitched, mixed or washed all the same, and why',
    ),
  },
  {
    method: 'get',
    path: '/api/ferments/current',
    tag: 'Standing',
    who: readers,
    query: sitesQuery,
    summary: 'Ferments not yet racked, and those racked within 14 days',
    answers: answer(
      '`items`: state, pitches, readings, crops, attenuation; `flag`: its status and why; `running`: how far behind its band, hours to the racking gravity at 10, 50 and 90 %, the rate of false alarms, causes in order',
    ),
  },
  {
    method: 'get',
    path: '/api/ferments/{id}/standing',
    tag: 'Standing',
    who: readers,
    summary: 'One ferment as it stands',
    answers: answer(
      'As in the list of current ferments, with `gravities` and what was expected at each; `band`: gravity by hour at 95 %, and what it rests on; `result`, once it is over: fitted curve or crossing times, attenuation, ABV by Balling and by the HMRC factors; `notes` on odd readings; `overrides`: what was done all the same to its yeast, and why; `planned`: the planned brew it names, or null',
    ),
  },
  {
    method: 'get',
    path: '/api/lines',
    tag: 'Standing',
    who: readers,
    query: sitesQuery,
    summary: 'The lines: all that descends from one fresh culture, by generation',
    description:
      'A line kept at several sites stands in the list of each, judged by what it did there: other FVs, water and hands would be taken for a change in the yeast.',
    answers: answer(
      '`items`: state (steady, settling, due soon, drifting, due, ended), and the reasons for it, the gravest first',
    ),
  },
  {
    method: 'get',
    path: '/api/lines/{id}',
    tag: 'Standing',
    who: readers,
    query: siteQuery,
    summary: 'One line, by the id of its fresh culture',
    description:
      'Where there are several sites, at the one asked for, else at the first where the line has been: `siteId` says which, `sites` where it has been.',
    answers: answer(
      'As in the list of lines, with `points`: the measures of each ferment; and `measures`: for each, whether it drifts, the limits its settled generations set, its moving average, runs rules, and its trend',
    ),
  },
];
