import { expect, test } from 'vitest';
import { verifyChain } from '#db/journal/chain.ts';
import { projectionDump, rebuild } from '#db/safety/upkeep.ts';
import { entry as entrySchema } from '#shared/entries/entry.ts';
import { freshDatabase, storyStartMs } from '#tests/support/brewery.ts';
import { loadLog } from './loadLog.ts';
import { syntheticLog } from './syntheticLog.ts';

const shape = { sites: 2, weeks: 6, chains: 2, readingsPerFerment: 4, generations: 4 };

test('the log the benchmarks run on is one the tool itself would have made', async () => {
  const made = [...syntheticLog(shape, storyStartMs)];
  for (const { entry } of made) entrySchema.parse(entry);
  const database = await freshDatabase();
  await loadLog(database, made);
  expect(await verifyChain(database)).toMatchObject({ sound: true, entries: made.length });
  const loaded = await projectionDump(database);
  await rebuild(database);
  expect(await projectionDump(database)).toEqual(loaded);
});
