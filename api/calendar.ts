import { Hono } from 'hono';
import ical, { type ICalEventData } from 'ical-generator';
import type { Database } from '#db/database.ts';
import { unreadPlates } from '#db/reads/unreadPlates.ts';
import { dayMs } from '#shared/durations.ts';
import { dayAfter, localDay } from '#shared/localDay.ts';
import { type CalendarEvent, calendarEvents } from '#shared/plan/calendarEvents.ts';
import type { RouteDoc } from './apiDocument.ts';
import type { Services } from './context.ts';
import { planOf } from './plan.ts';
import { type SiteView, siteQuery, siteViewOf } from './siteView.ts';
import { breweryOf } from './standings.ts';

const daysAhead = 28;
const refreshHours = 6;

/** The plan as an iCalendar feed (RFC 5545), to which a calendar subscribes by its own secret key. */
export function calendarRoutes({ database, now }: Services) {
  return new Hono().get('/calendar.ics', async (context) =>
    context.body(
      await calendarText(database, now(), await siteViewOf({ database, now }, context)),
      200,
      {
        'content-type': 'text/calendar; charset=utf-8',
        'content-disposition': 'inline; filename="barmbook.ics"',
      },
    ),
  );
}

/** The work ahead as iCalendar: days as dates of the brewery, moments in UTC. */
export async function calendarText(
  database: Database,
  nowMs: number,
  view: Partial<SiteView> = {},
): Promise<string> {
  const brewery = await breweryOf(database);
  const timeZone = view.timeZone ?? brewery?.timeZone ?? 'UTC';
  const { at, site } = view;
  const plates = await unreadPlates(
    database.query,
    nowMs + daysAhead * dayMs,
    localDay(timeZone),
    at,
  );
  const calendar = ical({
    name:
      brewery === null
        ? 'Barmbook'
        : `${[brewery.name, site?.name].filter(Boolean).join(', ')}: yeast`,
    prodId: { company: 'Barmbook', product: 'Plan', language: 'EN' },
    ttl: refreshHours * 3600,
    x: [{ key: 'X-WR-TIMEZONE', value: timeZone }],
  });
  const stamp = new Date(nowMs);
  for (const event of calendarEvents(
    await planOf(database, nowMs, { days: daysAhead, at, timeZone }),
    plates,
  ))
    calendar.createEvent(eventData(event, stamp));
  // RFC 5545, 3.1: every line ends with CRLF, the last one too.
  return `${calendar.toString()}\r\n`;
}

function eventData(event: CalendarEvent, stamp: Date): ICalEventData {
  const { id, title: summary, detail: description } = event;
  const common = { id: `${id}@barmbook`, stamp, summary, description };
  if ('from' in event) return { ...common, start: new Date(event.from), end: new Date(event.to) };
  // A date is told apart from a moment; its end is the day after (RFC 5545, 3.6.1).
  const start = new Date(`${event.day}T00:00:00Z`);
  const end = new Date(`${dayAfter(event.day)}T00:00:00Z`);
  return { ...common, allDay: true, start, end };
}

export const calendarDocs: readonly RouteDoc[] = [
  {
    method: 'get',
    path: '/api/calendar.ics',
    tag: 'In and out',
    who: 'feed key',
    summary: 'The plan as an iCalendar feed: brew days, crops, fresh culture and its steps, plates',
    description:
      'RFC 5545. Give the key of the feed in the address, `?key=…`; it is made under Setup and can be revoked. An event keeps its UID when it moves.',
    query: siteQuery,
    answers: { 200: { description: '`text/calendar`' } },
  },
];
