import { expect, test } from 'vitest';
import { vesselsInUse } from '#db/reads/ferments.ts';
import { aFerment, aSmallStory, at, nextId } from '#tests/support/brewery.ts';

const by = 'Ines';

/** Gyle 412 was collected into FV1 at hour 1 of the story and is in it still. */
async function aBusyFermenter() {
  const story = await aSmallStory();
  const ids = { vesselId: story.fv1.id, strainId: story.strain.id };
  const collect = (gyle: string, hours: number) =>
    story.write(aFerment({ ...ids, gyle, happenedAt: at(hours) }));
  const rack = (fermentId: string, hours: number) =>
    story.write({ kind: 'rack', happenedAt: at(hours), by, fermentId, batches: [] });
  return { ...story, ids, collect, rack };
}

test('a gyle entered late comes before the one that is in its fermenter, and asks for its racking', async () => {
  const { database, collect, rack, fresh, write } = await aBusyFermenter();
  const late = await collect('411', -100);
  expect(late.warnings).toEqual(['FV1 held gyle 412 afterwards: record when this one was racked.']);
  const held = async () =>
    (await vesselsInUse(database.query)).find(({ name }) => name === 'FV1')?.holds?.gyle;
  expect(await held()).toBe('412');
  await expect(rack(late.id, 1.5)).rejects.toThrow(
    'FV1 already held gyle 412 then: enter when this one was racked',
  );
  await rack(late.id, 1);
  expect(await held()).toBe('412');
  // Its pitch, entered last of all, was while it was in the fermenter.
  const pitch = { kind: 'pitch', by, fermentId: late.id, lotId: fresh.id, amountL: 2 } as const;
  await write({ ...pitch, happenedAt: at(0.5) });
  await expect(write({ ...pitch, happenedAt: at(1.1) }, nextId())).rejects.toThrow(
    'Gyle 411 was already racked then',
  );
});

test('a gyle collected while another is in the fermenter is refused, and a racking told later warns', async () => {
  const { collect, rack, ferment } = await aBusyFermenter();
  await expect(collect('413', 60)).rejects.toThrow(
    'FV1 still holds gyle 412: record its racking first',
  );
  await rack(ferment.id, 72);
  expect((await collect('413', 71)).warnings).toEqual([
    'By the record FV1 held gyle 412 until later than that: check the times.',
  ]);
});

test('a gyle racked long ago is corrected while its fermenter holds another, and none is moved onto that', async () => {
  const { collect, rack, write, ferment, fv2, ids } = await aBusyFermenter();
  await rack(ferment.id, 72);
  await collect('413', 80);
  const corrected = { supersedes: ferment.id, reason: 'Mistyped' };
  const again = await write({ ...aFerment({ ...ids, beer: 'Skerry Mild' }), ...corrected });
  expect(again.warnings).toEqual([]);
  const other = { ...ids, vesselId: fv2.id, gyle: '414', happenedAt: at(82) };
  const elsewhere = await write(aFerment(other));
  const moved = aFerment({ ...other, vesselId: ids.vesselId });
  await expect(write({ ...moved, supersedes: elsewhere.id, reason: 'Mistyped' })).rejects.toThrow(
    'FV1 still holds gyle 413',
  );
});
