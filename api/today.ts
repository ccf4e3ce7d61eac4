import { unreadPlates } from '#db/reads/unreadPlates.ts';
import { dayMs } from '#shared/durations.ts';
import { dayAfter, localDay } from '#shared/localDay.ts';
import { todayActions } from '#shared/today/today.ts';
import type { Today, TodayAction } from '#shared/views/today.ts';
import type { Services } from './context.ts';
import { lotsInHand, planOf } from './plan.ts';
import { type SiteView, viewsOfEach } from './siteView.ts';
import { currentFerments, currentLines } from './standings.ts';

/** What to do at the site looked at; for several, what to do at each, under its name. */
export async function todayOf(services: Services, view: SiteView): Promise<Today> {
  const nowMs = services.now();
  const at = new Date(nowMs).toISOString();
  const each = viewsOfEach(view);
  if (each.length === 0) return { at, actions: await todayAt(services, nowMs, view) };
  const actions: TodayAction[] = [];
  for (const one of each)
    for (const action of await todayAt(services, nowMs, one))
      actions.push({ ...action, id: `${one.site.code}-${action.id}`, site: one.site.name });
  return { at, actions: actions.sort((a, b) => rank(a) - rank(b)) };
}

const rank = ({ urgency }: TodayAction) => ['now', 'today', 'soon'].indexOf(urgency);

async function todayAt(
  { database }: Services,
  nowMs: number,
  { at, timeZone }: SiteView,
): Promise<TodayAction[]> {
  const dayOf = localDay(timeZone);
  const ferments = await currentFerments(database, nowMs, at);
  const lines = await currentLines(database, at);
  const lots = await lotsInHand(database, nowMs, ferments, at);
  return todayActions({
    lots: lots.filter(({ left }) => left > 0),
    ferments,
    lines,
    plan: await planOf(database, nowMs, { ferments, lots, lines, at, timeZone }),
    plates: await unreadPlates(database.query, nowMs + 2 * dayMs, dayOf, at),
    today: dayOf(nowMs),
    tomorrow: dayAfter(dayOf(nowMs)),
  });
}
