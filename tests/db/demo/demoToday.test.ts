import { expect, test } from 'vitest';
import { notYetBrewed } from '#api/plan.ts';
import { currentFerments, currentLines, lotStandings } from '#api/standings.ts';
import { openDatabase } from '#db/database.ts';
import { fillDemo } from '#db/demo/fillDemo.ts';
import { migrate } from '#db/migrate.ts';
import { plannedFrom } from '#db/reads/ferments.ts';
import { lotIdsInStore } from '#db/reads/lots.ts';
import { cropWindow } from '#shared/ferments/cropWindow.ts';

const longMs = 120_000;

/** A working morning; the small hours; both days on which the clocks change; a summer afternoon; a leap day's evening. */
const moments = [
  ['2026-06-10T09:20:00Z', '2026-06-11'],
  ['2026-12-31T02:10:00Z', '2027-01-01'],
  ['2026-03-29T00:05:00Z', '2026-03-30'],
  ['2026-10-25T07:34:00Z', '2026-10-26'],
  ['2026-07-08T13:40:00Z', '2026-07-09'],
  ['2028-02-29T20:59:00Z', '2028-03-01'],
] as const;

test.each(moments)(
  'at %s the brewery shows every situation promised',
  async (now, tomorrow) => {
    const nowMs = Date.parse(now);
    const database = await openDatabase(':memory:');
    await migrate(database, nowMs);
    await fillDemo(database, nowMs);

    const lots = await lotStandings(database, await lotIdsInStore(database.query), nowMs);
    const verdicts = lots.map((lot) => `${lot.strain.name}: ${lot.verdict.verdict}`);
    expect(verdicts.toSorted()).toEqual([
      'Fulmar: hold',
      'Tern: fit',
      'Tern: past it',
      'Tern: test first',
    ]);
    expect(lots.flatMap((lot) => lot.pendingChecks).map((check) => check.overdue)).toEqual([false]);

    const ferments = await currentFerments(database, nowMs);
    const running = ferments.filter((ferment) => ferment.state !== 'racked');
    expect(running.map((ferment) => ferment.state)).toEqual([
      'fermenting',
      'fermenting',
      'fermenting',
      'chilled',
    ]);
    const [newest, slow, grown] = running;
    expect(newest?.flag.status).toBe('too early');
    expect(slow?.flag.status).toBe('slow');
    const causes = slow?.running?.causes.map(({ cause, finding }) => `${cause}: ${finding}`);
    expect(causes?.slice(0, 5)).toEqual([
      'viable pitch: outside',
      'oxygen: outside',
      'zinc: not recorded',
      'free amino nitrogen: not recorded',
      'viability: not recorded',
    ]);
    expect(slow?.running?.causes.find(({ cause }) => cause === 'oxygen')?.recorded).toBe(3.1);
    expect(slow?.running?.hoursBehind).toBeGreaterThan(8);
    expect(grown?.flag.status).toBe('on course');
    expect(grown?.running?.expectation).toMatchObject({
      basis: 'own ferments',
      group: 'settled generations',
    });
    expect(grown?.crops).toEqual([]);
    expect(grown?.hoursSincePitch).toBeGreaterThan(cropWindow.fromHours);
    expect(grown?.apparentAttenuationPercent).toBeGreaterThan(cropWindow.fromAttenuationPercent);
    expect(grown?.readings.filter((reading) => reading.corrected)).toHaveLength(1);

    const lines = await currentLines(database);
    const alive = lines.filter((line) => line.state !== 'ended');
    expect(alive.map((line) => [line.strain.name, line.state]).toSorted()).toEqual([
      ['Fulmar', 'steady'],
      ['Tern', 'due soon'],
    ]);

    const planned = await plannedFrom(database.query, tomorrow);
    expect(planned).toHaveLength(7);
    expect(planned[0]?.onDay).toBe(tomorrow);
    const bySite = { at: undefined, timeZone: 'Europe/London' };
    const { toCome, passed } = await notYetBrewed(database.query, nowMs, bySite);
    expect([toCome.length, passed.length]).toEqual([7, 0]);
    expect(running.map(({ record }) => record.plannedBrewId === null)).toEqual([
      ...[true, false, false, false],
    ]);
    await database.close();
  },
  longMs,
);
