import { expect, test } from 'vitest';
import { entriesAbout } from '#db/reads/history.ts';
import { aSmallStory, at } from '#tests/support/brewery.ts';

test('entriesAbout(lot) holds what was struck out, the voids, and the plates read', async () => {
  const { database, write, crop } = await aSmallStory();
  const by = 'Tom';
  const stain = await write({
    kind: 'stain',
    happenedAt: at(45),
    by,
    lotId: crop.id,
    stain: 'methylene blue',
    live: 90,
    dead: 10,
  });
  await write({
    kind: 'void',
    happenedAt: at(46),
    by,
    supersedes: stain.id,
    reason: 'wrong slide',
  });
  const plate = await write({
    kind: 'microCheck',
    happenedAt: at(46),
    by,
    lotId: crop.id,
    medium: 'Lysine agar',
    looksFor: 'wild yeast',
    dueAt: at(140),
  });
  await write({ kind: 'microResult', happenedAt: at(47), by, checkId: plate.id, outcome: 'clear' });
  const entries = await entriesAbout(database.query, 'lotId', crop.id);
  expect(entries.map((entry) => entry.kind)).toEqual([
    'crop',
    'stain',
    'void',
    'microCheck',
    'microResult',
  ]);
});
