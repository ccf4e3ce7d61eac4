import { expect, test } from 'vitest';
import { verifyChain } from '#db/journal/chain.ts';
import { projectionDump, rebuild } from '#db/safety/upkeep.ts';
import { aSmallStory, at } from '#tests/support/brewery.ts';

test('rebuild(database) gives the same tables row by row', async () => {
  const { database, write, pitch, ferment, fresh } = await aSmallStory();
  await write({
    kind: 'pitch',
    happenedAt: at(2),
    by: 'Ines',
    fermentId: ferment.id,
    lotId: fresh.id,
    amountL: 12,
    supersedes: pitch.id,
    reason: 'misread the dipstick',
  });
  const reading = await write({
    kind: 'reading',
    happenedAt: at(20),
    by: 'Tom',
    fermentId: ferment.id,
    gravitySg: 1.031,
  });
  await write({
    kind: 'void',
    happenedAt: at(21),
    by: 'Tom',
    supersedes: reading.id,
    reason: 'wrong FV',
  });
  const before = await projectionDump(database);
  expect(await rebuild(database)).toEqual({ entries: 10 });
  expect(await projectionDump(database)).toEqual(before);
  expect(before.lot).toHaveLength(2);
});

test('verifyChain(database) finds a sound chain whole', async () => {
  const { database } = await aSmallStory();
  expect(await verifyChain(database)).toMatchObject({ sound: true, entries: 7 });
});

test('verifyChain(database) names the first entry that was tampered with', async () => {
  const { database } = await aSmallStory();
  await database.write([
    'DROP TRIGGER journal_no_update',
    `UPDATE journal SET body = replace(body, '"amountL":11', '"amountL":10') WHERE seq = 6`,
  ]);
  expect(await verifyChain(database)).toMatchObject({
    sound: false,
    firstBad: { seq: 6, why: 'its content does not match its seal' },
  });
});

test('verifyChain(database) notices an entry taken out of the middle', async () => {
  const { database } = await aSmallStory();
  await database.write([
    'PRAGMA defer_foreign_keys = ON',
    'DROP TRIGGER journal_no_delete',
    'DELETE FROM vessel WHERE seq = 2',
    'DELETE FROM lot',
    'DELETE FROM pitch',
    'DELETE FROM ferment',
    'DELETE FROM journal WHERE seq = 2',
  ]);
  expect(await verifyChain(database)).toMatchObject({
    sound: false,
    firstBad: { seq: 3, why: 'entry 2 is missing' },
  });
});

test.each([
  ['changed', "UPDATE journal SET by_name = 'someone' WHERE seq = 1"],
  ['deleted', 'DELETE FROM journal WHERE seq = 7'],
  ['replaced', 'INSERT OR REPLACE INTO journal SELECT * FROM journal WHERE seq = 1'],
])('the journal cannot be %s', async (_how, sql) => {
  const { database } = await aSmallStory();
  await expect(database.write([sql])).rejects.toThrow(/journal (is append-only|already holds)/);
});
