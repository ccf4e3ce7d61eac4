import { expect, test } from 'vitest';
import { record } from '#db/journal/journal.ts';
import { aSmallStory, at, nextId } from '#tests/support/brewery.ts';

const source = { receivedMs: Date.parse(at(100)), actor: 'local', via: 'web' as const };
const rise = ['This gravity is higher than the one read before it: check it.'];

async function aFermentRead() {
  const { database, ferment } = await aSmallStory();
  return async (hours: number, gravitySg: number) => {
    const reading = {
      kind: 'reading' as const,
      happenedAt: at(hours),
      by: 'Tom',
      fermentId: ferment.id,
      gravitySg,
    };
    return (await record(database, nextId(), reading, source)).recorded.warnings;
  };
}

test('a gravity above the one read before it is recorded with a warning', async () => {
  const read = await aFermentRead();
  expect(await read(40, 1.02)).toEqual([]);
  expect(await read(44, 1.0205)).toEqual([]);
  expect(await read(46, 1.022)).toEqual(rise);
});

test('a gravity brought in late is held to the one before its time, not to the latest', async () => {
  const read = await aFermentRead();
  await read(40, 1.02);
  await read(46, 1.012);
  expect(await read(42, 1.018)).toEqual([]);
  expect(await read(43, 1.03)).toEqual(rise);
});

test('a second gravity at the very time of another is recorded with a warning', async () => {
  const read = await aFermentRead();
  await read(46, 1.02);
  expect(await read(46, 1.018)).toEqual([
    'A gravity is already written down for this very time: check the time.',
  ]);
});
