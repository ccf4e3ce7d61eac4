import { expect, test } from 'vitest';
import { hourMs } from '#shared/durations.ts';
import { aBrewery, aStrain, at, nextId, storyStartMs } from '#tests/support/brewery.ts';
import { anApi } from '#tests/support/server.ts';

// On 25 October 2026 London's clocks go back: at half past midnight, 24 hours on is still the 25th.
test('on the night the clocks go back, tomorrow is the day after', async () => {
  const { put, get, setHours } = await anApi();
  await put(aBrewery());
  const strainId = nextId();
  await put(aStrain(), strainId);
  const brew = (onDay: string, beer: string) =>
    put({
      ...{ kind: 'plannedBrew', happenedAt: at(0), by: 'Ines', onDay, beer, volumeL: 1000 },
      ...{ originalGravitySg: 1.04, strainId },
    });
  await brew('2026-10-25', 'Bitter');
  await brew('2026-10-26', 'Pale');
  setHours((Date.parse('2026-10-24T23:30:00Z') - storyStartMs) / hourMs);
  const response = await get('/api/today');
  expect(response.status).toBe(200);
  const { actions } = await response.json();
  const titles = actions.map(({ title }: { title: string }) => title);
  expect(titles).toContain('No yeast fit for Bitter today');
  expect(titles).toContain('No yeast fit for Pale tomorrow');
});
