import { expect, test } from 'vitest';
import { planOf } from '#api/plan.ts';
import { openDatabase } from '#db/database.ts';
import { fillDemo } from '#db/demo/fillDemo.ts';
import { migrate } from '#db/migrate.ts';

const longMs = 120_000;

/** A working morning, and both days on which the clocks change. */
const moments = ['2026-06-10T09:20:00Z', '2026-03-29T00:05:00Z', '2026-10-25T07:34:00Z'];

test.each(moments)(
  'at %s the plan falls short once, and says why',
  async (now) => {
    const nowMs = Date.parse(now);
    const database = await openDatabase(':memory:');
    await migrate(database, nowMs);
    await fillDemo(database, nowMs);
    const plan = await planOf(database, nowMs);

    expect(plan.brews.map(({ beer, state }) => [beer, state === 'short'])).toEqual([
      ['Groyne Mild', false],
      ['Keelson Stout', true],
      ['Sarn Point Gold', false],
      ['Headland Bitter', false],
      ['Undertow', false],
      ['Slack Water Pale', false],
      ['Tarred Rope Porter', false],
    ]);
    const [shortage, ...others] = plan.shortages;
    expect(others).toEqual([]);
    expect(shortage?.beer).toBe('Keelson Stout');
    expect(shortage?.missingCells.value).toBeGreaterThan(3e13);
    expect(shortage?.blocked.map(({ label, reason }) => [label.split('-')[0], reason])).toEqual([
      ['FM', 'held'],
      ['crop of gyle 534, FV5', 'held'],
      ['fresh Fulmar', 'not ready yet'],
    ]);

    const [tern, fulmar] = plan.fresh;
    expect(tern?.need?.because).toBe('the generation limit');
    expect(tern?.need?.steps.length).toBeGreaterThan(3);
    expect(tern?.need?.isLate).toBe(false);
    expect(tern?.cost?.chancesFrom).toBe('your own brews');
    expect(fulmar?.need).toMatchObject({ because: 'a shortage', isLate: true });
    expect(fulmar?.need?.expectedOn).not.toBeNull();
    await database.close();
  },
  longMs,
);
