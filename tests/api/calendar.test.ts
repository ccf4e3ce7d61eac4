import { expect, test } from 'vitest';
import { calendarText } from '#api/calendar.ts';
import { hourMs } from '#shared/durations.ts';
import { dayAfter } from '#shared/localDay.ts';
import { at, storyStartMs } from '#tests/support/brewery.ts';
import { aPlanStory } from '#tests/support/planStory.ts';
import { anApi } from '#tests/support/server.ts';

const nowMs = storyStartMs + 48 * hourMs;
const today = '2026-03-04';

type Event = Record<string, string>;

/** Reads iCalendar as RFC 5545 writes it: CRLF, folded lines, escaped text. */
function parsed(text: string): { calendar: Event; events: Event[] } {
  expect(text.endsWith('\r\n')).toBe(true);
  expect(text.replaceAll('\r\n', '')).not.toMatch(/[\r\n]/);
  for (const line of text.split('\r\n')) expect(Buffer.byteLength(line)).toBeLessThanOrEqual(75);
  const events: Event[] = [];
  const calendar: Event = {};
  const open: string[] = [];
  for (const line of text
    .replaceAll(/\r\n[ \t]/g, '')
    .split('\r\n')
    .slice(0, -1)) {
    const [, name = '', value = ''] = /^([A-Z-]+(?:;[^:]*)?):(.*)$/.exec(line) ?? [];
    expect(name, line).not.toBe('');
    if (name === 'BEGIN') {
      open.push(value);
      if (value === 'VEVENT') events.push({});
    } else if (name === 'END') expect(open.pop()).toBe(value);
    else {
      const target = open.at(-1) === 'VEVENT' ? events.at(-1) : calendar;
      if (target !== undefined)
        target[name] = value.replaceAll(/\\([,;\\n])/g, (_, c) => (c === 'n' ? '\n' : c));
    }
  }
  expect(open).toEqual([]);
  return { calendar, events };
}

async function aFeed() {
  const story = await aPlanStory();
  const brew = await story.brew(dayAfter(today, 5), 'Größe; Bitter, mild');
  await story.write({
    ...{ kind: 'microCheck', happenedAt: at(47), by: 'Ines', lotId: story.crop.id },
    ...{ medium: 'Lysine', looksFor: 'wild yeast', dueAt: '2026-03-08T23:30:00Z' },
  });
  return { ...story, planned: brew, ...parsed(await calendarText(story.database, nowMs)) };
}

test('the feed is a calendar with its product, its name and the time zone of the brewery', async () => {
  const { calendar, events } = await aFeed();
  expect(calendar).toMatchObject({ VERSION: '2.0', 'X-WR-TIMEZONE': 'Europe/London' });
  expect(calendar.PRODID).toContain('Barmbook');
  expect(calendar['X-WR-CALNAME']).toBe('Wrackstone: yeast');
  expect(events.length).toBeGreaterThan(4);
  expect(new Set(events.map(({ UID }) => UID)).size).toBe(events.length);
  for (const event of events) expect(event.DTSTAMP).toBe('20260304T080000Z');
});

test('a brew is a day, and ends the day after; commas and letters come through', async () => {
  const { events, planned } = await aFeed();
  const event = events.find(({ UID }) => UID === `brew-${planned.id}@barmbook`);
  expect(event).toMatchObject({
    'DTSTART;VALUE=DATE': '20260309',
    'DTEND;VALUE=DATE': '20260310',
  });
  expect(event?.SUMMARY).toContain('Brew Größe; Bitter, mild');
  expect(event?.DESCRIPTION).toMatch(/1200 L/);
});

test('a plate is to be read on the brewery’s own date', async () => {
  const { events } = await aFeed();
  const plate = events.find(({ UID = '' }) => UID.startsWith('plate-'));
  expect(plate).toMatchObject({ 'DTSTART;VALUE=DATE': '20260308' });
});

test('an event keeps its UID when the brew moves to another day', async () => {
  const story = await aFeed();
  await story.write({
    ...{ kind: 'plannedBrew', happenedAt: at(47), by: 'Ines', onDay: dayAfter(today, 6) },
    ...{ beer: 'Bitter', volumeL: 1200, originalGravitySg: 1.04, strainId: story.strain.id },
    ...{ supersedes: story.planned.id, reason: 'Malt is late' },
  });
  const { events } = parsed(await calendarText(story.database, nowMs));
  const event = events.find(({ UID }) => UID === `brew-${story.planned.id}@barmbook`);
  expect(event?.['DTSTART;VALUE=DATE']).toBe('20260310');
});

test('steps of a propagation are moments in UTC, one after another', async () => {
  const { events } = await aFeed();
  const steps = events.filter(({ UID = '' }) => UID.startsWith('step-'));
  expect(steps.length).toBeGreaterThan(3);
  for (const [index, step] of steps.entries()) {
    expect(step.DTSTART).toMatch(/^\d{8}T\d{6}Z$/);
    if (index > 0) expect(step.DTSTART).toBe(steps[index - 1]?.DTEND);
  }
});

test('GET /api/calendar.ics asks for the key of the feed', async () => {
  const { get } = await anApi();
  expect((await get('/api/calendar.ics')).status).toBe(401);
  expect((await get('/api/calendar.ics?key=wrong')).status).toBe(401);
});
