import { expect, test } from 'vitest';
import { crashStop, recentCrashes } from '#db/opening/crashes.ts';
import { noteUpkeep, type UpkeepKind } from '#db/safety/upkeepEvents.ts';
import { minuteMs } from '#shared/durations.ts';
import { freshDatabase, storyStartMs } from '#tests/support/brewery.ts';

type Noted = readonly [kind: UpkeepKind, minutesAgo: number];

async function noted(events: readonly Noted[]) {
  const database = await freshDatabase();
  for (const [kind, minutesAgo] of events)
    await noteUpkeep(database, { atMs: storyStartMs - minutesAgo * minuteMs, kind, detail: {} });
  return database;
}

test.each<[string, Noted[], number]>([
  ['not the one under way', [['started', 0]], 0],
  [
    'two that did not end',
    [
      ['started', 5],
      ['started', 3],
      ['started', 0],
    ],
    2,
  ],
  [
    'none before a clean end',
    [
      ['started', 5],
      ['started', 4],
      ['stopped', 3],
      ['started', 0],
    ],
    0,
  ],
  [
    'none of long ago',
    [
      ['started', 60],
      ['started', 11],
      ['started', 9],
      ['started', 0],
    ],
    1,
  ],
  [
    'none of a clock that was ahead',
    [
      ['started', -60],
      ['started', -30],
      ['started', 0],
    ],
    0,
  ],
])('of the starts of late count as crashes: %s', async (_what, events, crashes) => {
  expect(await recentCrashes(await noted(events), storyStartMs)).toBe(crashes);
});

test('five crashes stop the writing, four do not', async () => {
  const starts = (count: number) => Array.from({ length: count }, (): Noted => ['started', 1]);
  expect(await crashStop(await noted(starts(5)), storyStartMs)).toBeUndefined();
  expect(await crashStop(await noted(starts(6)), storyStartMs)).toMatchObject({
    code: 'read_only',
    reason: expect.stringContaining('stop it and start it again'),
  });
});
