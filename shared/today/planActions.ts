import { daysBetween } from '#shared/localDay.ts';
import type { FreshNeed } from '#shared/plan/freshView.ts';
import type { Plan, PlanShortage } from '#shared/plan/planView.ts';
import type { TodayAction } from '#shared/views/today.ts';

/** Days ahead within which a shortage or a start is a matter for today, and is worth a word: judgements. */
const pressingDays = { shortage: 4, start: 1 } as const;
const worthAWordDays = 7;

type Days = { today: string; tomorrow: string };

/** What the plan asks for now: brews that will be short of yeast, and fresh culture to start. */
export function planActions(plan: Pick<Plan, 'shortages' | 'fresh'>, days: Days): TodayAction[] {
  return [
    ...plan.shortages.flatMap((shortage) => shortageActions(shortage, days)),
    ...plan.fresh.flatMap((need) => freshActions(need, days)),
  ];
}

/** Brews of today and tomorrow are judged by what stands in store, not by the plan. */
function shortageActions(shortage: PlanShortage, { today, tomorrow }: Days): TodayAction[] {
  const { brewId, beer, onDay, blocked, cropMoreOf } = shortage;
  if (onDay <= tomorrow) return [];
  const inDays = daysBetween(today, onDay);
  const [more] = cropMoreOf;
  const [held] = blocked.filter(({ reason }) => reason === 'held');
  const way =
    more !== undefined
      ? `Keep more of the ${more.label}: ${more.ratio.toFixed(1)} times what was pitched.`
      : held !== undefined
        ? `${held.label} cannot be used. ${held.why}.`
        : 'Nothing in store or to come will do: see what stands in the way.';
  return [
    {
      id: `short-${brewId}`,
      urgency: inDays <= pressingDays.shortage ? 'today' : 'soon',
      title: `Not enough yeast for ${beer} in ${daysOf(inDays)}`,
      detail: way,
      href: `/plan#${brewId}`,
      verb: 'Plan',
    },
  ];
}

function freshActions({ strain, comesFrom, need }: FreshNeed, { today }: Days): TodayAction[] {
  if (need === null || need.expectedOn !== null) return [];
  const inDays = daysBetween(today, need.startBy);
  if (inDays > worthAWordDays) return [];
  const verb = comesFrom === 'bought' ? 'Order' : 'Wake';
  const what = comesFrom === 'bought' ? `fresh ${strain.name}` : `the slope of ${strain.name}`;
  const when =
    inDays < 0
      ? `It should have been ${comesFrom === 'bought' ? 'ordered' : 'woken'} ${daysOf(-inDays)} ago`
      : inDays === 0
        ? 'Today is the last day for it'
        : `In ${daysOf(inDays)} it is too late`;
  const wantedIn = daysBetween(today, need.onDay);
  const wanted = wantedIn > 0 ? `in ${daysOf(wantedIn)}` : 'now';
  return [
    {
      id: `fresh-${strain.id}`,
      urgency: inDays <= pressingDays.start ? 'today' : 'soon',
      title: `${verb} ${what}`,
      detail: `${when}: wanted ${wanted}, because of ${need.because}.`,
      href: '/plan#fresh',
      verb,
    },
  ];
}

const daysOf = (count: number) => (count === 1 ? '1 day' : `${count} days`);
