import { Hono } from 'hono';
import * as z from 'zod/mini';
import type { Database, Query } from '#db/database.ts';
import { gylesFor, plannedFrom, vesselsInUse } from '#db/reads/ferments.ts';
import { lotIdsInStore } from '#db/reads/lots.ts';
import { pastBrews, pastCrops } from '#db/reads/plan.ts';
import { allRecords, recordsWhere } from '#db/reads/records.ts';
import type { SiteScope } from '#db/sites/siteScope.ts';
import { dayMs } from '#shared/durations.ts';
import { dayAfter, localDay } from '#shared/localDay.ts';
import { type Gyle, type Unbrewed, unbrewed } from '#shared/plan/demand.ts';
import { HORIZON_DAYS, planAhead } from '#shared/plan/plan.ts';
import type { Plan } from '#shared/plan/planView.ts';
import { brewsOfSite, cropsOfSite } from '#shared/plan/siteOrAll.ts';
import type { FermentStanding } from '#shared/views/ferments.ts';
import type { LineStanding } from '#shared/views/lines.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { RouteDoc } from './apiDocument.ts';
import { readers } from './auth/who.ts';
import type { Services } from './context.ts';
import { queryWhole } from './queryWhole.ts';
import { siteQuery, siteViewOf } from './siteView.ts';
import { breweryOf, currentFerments, currentLines, lotStandings } from './standings.ts';
import { queryOf } from './validate.ts';

/**
 * How long ago a planned brew may lie whose gyle a choice made by hand still follows, and of which the
 * plan still asks what became of it.
 */
const daysBack = 14;
const mostDays = 90;

const planQuery = z.extend(siteQuery, {
  days: z.optional(
    queryWhole(
      'days',
      { min: 1, max: mostDays },
      `How far to look ahead, 1 to ${mostDays}; ${HORIZON_DAYS} when left out`,
    ),
  ),
});

export function planRoutes({ database, now }: Services) {
  return new Hono().get('/plan', queryOf(planQuery), async (context) => {
    const { days } = context.req.valid('query');
    const view = await siteViewOf({ database, now }, context);
    return context.json(await planOf(database, now(), { days, ...view }), 200);
  });
}

/** What the caller has at hand already: each takes a while to work out. */
type Known = {
  ferments?: readonly FermentStanding[];
  lots?: readonly LotStanding[];
  lines?: readonly LineStanding[];
  at?: SiteScope;
  /** Of the site; that of the brewery when left out. */
  timeZone?: string;
};

/** The plan as it stands at a moment. */
export async function planOf(
  database: Database,
  nowMs: number,
  { days = HORIZON_DAYS, at, ...known }: { days?: number | undefined } & Known = {},
): Promise<Plan> {
  const { query } = database;
  const timeZone = known.timeZone ?? (await breweryOf(database))?.timeZone ?? 'UTC';
  const ferments = known.ferments ?? (await currentFerments(database, nowMs, at));
  const today = localDay(timeZone)(nowMs);
  const { plannedBrews, brewIds, gyles } = await plannedAndBrewed(query, { today, nowMs, at });
  return planAhead({
    nowMs,
    timeZone,
    days,
    ferments,
    strains: await allRecords(query, 'strain'),
    vessels: await vesselsInUse(query, at),
    plannedBrews,
    gyles,
    lots: known.lots ?? (await lotsInHand(database, nowMs, ferments, at)),
    lines: known.lines ?? (await currentLines(database, at)),
    allotments: await recordsWhere(query, 'allotment', 'planned_brew_id', brewIds),
    policies: await allRecords(query, 'freshCulturePolicy'),
    ...(await pastOf(query, at)),
  });
}

/** The crops and brews to judge by, of a site where it has enough of its own. */
async function pastOf(query: Query, at: SiteScope) {
  const [crops, brews] = [await pastCrops(query), await pastBrews(query)];
  return at === undefined
    ? { pastCrops: crops, pastBrews: brews }
    : {
        pastCrops: cropsOfSite(await pastCrops(query, at), crops),
        pastBrews: brewsOfSite(await pastBrews(query, at), brews),
      };
}

type Now = { today: string; nowMs: number; at: SiteScope };

/** The brews planned from some days ago on, and the gyles they may have become. */
async function plannedAndBrewed(query: Query, { today, nowMs, at }: Now) {
  const plannedBrews = await plannedFrom(query, dayAfter(today, -daysBack), at);
  const brewIds = plannedBrews.map(({ id }) => id);
  const sinceMs = nowMs - (daysBack + 1) * dayMs;
  const records = await gylesFor(query, { brewIds, sinceMs, at });
  const gyles = records.map((record): Gyle => ({ id: record.id, record }));
  return { plannedBrews, brewIds, gyles };
}

/** The brews planned and not brewed, the earliest first: to come, and of days that have passed. */
export async function notYetBrewed(
  query: Query,
  nowMs: number,
  { at, timeZone }: { at: SiteScope; timeZone: string },
): Promise<Unbrewed> {
  const dayOf = localDay(timeZone);
  const today = dayOf(nowMs);
  const { plannedBrews, gyles } = await plannedAndBrewed(query, { today, nowMs, at });
  return unbrewed(plannedBrews, gyles, { fromDay: today, dayOf });
}

/** The lots in store, and those that running ferments were pitched from. */
export async function lotsInHand(
  database: Database,
  nowMs: number,
  ferments: readonly FermentStanding[],
  at?: SiteScope,
): Promise<LotStanding[]> {
  const pitchedFrom = ferments
    .filter(({ state }) => state !== 'racked')
    .flatMap(({ pitches }) => pitches.map(({ lotId }) => lotId));
  const ids = new Set([...(await lotIdsInStore(database.query, at)), ...pitchedFrom]);
  return lotStandings(database, [...ids], nowMs);
}

export const planDocs: readonly RouteDoc[] = [
  {
    method: 'get',
    path: '/api/plan',
    tag: 'Standing',
    who: readers,
    summary:
      'Which yeast feeds which brew to come, what falls short, and when fresh culture is wanted',
    description:
      'Brews are planned, or collected and waiting for yeast. A planned brew is brewed once a gyle names it (`plannedBrewId`), or, of gyles that say nothing, once one of its beer and strain is collected within a day of its own. Yeast is in store, or a crop still to be taken, reckoned by this brewery’s own yields, those of the site where it has enough. What was set by hand (`allotment`) is kept first; the rest is given so that as many brews as can be are fed, never from a lot on hold.',
    query: planQuery,
    answers: {
      200: {
        description:
          '`brews`: state (fed, tight, short), parts with amount, range and viability on the day, `options` and why not; `notBrewed`: planned for the last 14 days, and no gyle came of them; `sources`: living cells with 95 % range, share given away, chance that it is enough; `shortages`: cells missing with range, what stands in the way, which crops to take more of; `yields`; `fresh`: per strain the need, `startBy`, dated propagation steps, cost of renewing now, later or at the limit',
      },
    },
  },
];
