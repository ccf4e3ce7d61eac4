import { expect, test } from 'vitest';
import { oneLine } from '#api/standings.ts';
import { lineEvidence, lineIds, lineIdsBeside, lineReach } from '#db/reads/lines.ts';
import { aFerment, aSmallStory, aStrain, at } from '#tests/support/brewery.ts';

const by = 'Ines';

test('lineEvidence(query, ids) reads what was recorded of each ferment of a line', async () => {
  const { database, write, fresh, ferment, pitch, crop } = await aSmallStory();
  await write({
    kind: 'stain',
    happenedAt: at(1.5),
    by,
    lotId: fresh.id,
    stain: 'methylene blue',
    live: 480,
    dead: 20,
  });
  await write({
    kind: 'stain',
    happenedAt: at(3),
    by,
    lotId: fresh.id,
    stain: 'methylene blue',
    live: 1,
    dead: 99,
  });
  await write({
    kind: 'reading',
    happenedAt: at(26),
    by,
    fermentId: ferment.id,
    gravitySg: 1.025,
    cellsPerMl: 4.1e7,
  });
  const check = await write({
    ...{ kind: 'microCheck', happenedAt: at(3), by, lotId: fresh.id },
    ...{ medium: 'TTC overlay', looksFor: 'petites', dueAt: at(99) },
  });
  await write({
    kind: 'microResult',
    happenedAt: at(99),
    by,
    checkId: check.id,
    outcome: 'clear',
    colonies: 3,
    ofColonies: 200,
  });
  await write({
    kind: 'rack',
    happenedAt: at(100),
    by,
    fermentId: ferment.id,
    gravitySg: 1.01,
    batches: [],
  });
  const [line] = await lineEvidence(database.query, [fresh.id]);
  expect(line).toMatchObject({
    ...{ id: fresh.id, highestGeneration: 1, aliveGeneration: 1, lotsInStore: 2, running: 0 },
  });
  expect(line?.ferments).toEqual([
    {
      ...{ id: ferment.id, gyle: '412', beer: 'Headland Bitter', originalGravitySg: 1.04 },
      ...{ pitchedMs: Date.parse(at(2)), chilledMs: null, rackedMs: Date.parse(at(100)) },
      generation: 0,
      pitches: [expect.objectContaining({ amountL: 11, amountKg: null })],
      crops: [expect.objectContaining({ amountL: null, amountKg: 10 })],
      readings: [
        expect.objectContaining({
          happenedMs: Date.parse(at(26)),
          gravitySg: 1.025,
          cellsPerMl: 4.1e7,
        }),
        { happenedMs: Date.parse(at(100)), gravitySg: 1.01, cellsPerMl: null },
      ],
      stain: { live: 480, dead: 20 },
      petites: { found: 3, examined: 200 },
    },
  ]);
  expect([pitch.kind, crop.kind]).toEqual(['pitch', 'crop']);
});

test('lineEvidence(query, ids) gives lines in the order asked, and none that is unknown', async () => {
  const { database, write, strain, fresh } = await aSmallStory();
  const newer = await write({
    ...{ kind: 'freshCulture', happenedAt: at(60), by, strainId: strain.id },
    ...{ origin: 'bought', generation: 0, amountL: 20 },
  });
  const { query } = database;
  const order = async (ids: string[]) => (await lineEvidence(query, ids)).map(({ id }) => id);
  expect(await order([newer.id, fresh.id])).toEqual([newer.id, fresh.id]);
  expect(await order([fresh.id, strain.id, newer.id])).toEqual([fresh.id, newer.id]);
  expect(await lineIds(query, 1)).toEqual([newer.id]);
  expect(await lineIdsBeside(query, fresh.id, 2)).toEqual([fresh.id, newer.id]);
});

test('oneLine(database, id) refuses what is no fresh culture', async () => {
  const { database, crop } = await aSmallStory();
  await expect(oneLine(database, crop.id)).rejects.toMatchObject({ code: 'not_found' });
});

test('the other lines read beside one are of its strain', async () => {
  const { database, write, fresh } = await aSmallStory();
  const fulmar = await write(aStrain({ name: 'Fulmar', code: 'FM', happenedAt: at(50) }));
  await write({
    ...{ kind: 'freshCulture', happenedAt: at(60), by, strainId: fulmar.id },
    ...{ origin: 'bought', generation: 0, amountL: 20 },
  });
  expect(await lineIdsBeside(database.query, fresh.id, 12)).toEqual([fresh.id]);
});

test('a line that never ends is read no further than its first and its latest ferments', async () => {
  const { database, write, strain, fv2, fresh } = await aSmallStory();
  const most = lineReach.earliest + lineReach.latest;
  for (let i = 0; i < most + 3; i++) {
    const ferment = await write(
      aFerment({
        vesselId: fv2.id,
        strainId: strain.id,
        gyle: `X${i}`,
        happenedAt: at(200 + 3 * i),
      }),
    );
    const moment = { happenedAt: at(201 + 3 * i), by, fermentId: ferment.id };
    await write({ kind: 'pitch', ...moment, lotId: fresh.id, amountL: 0.01 });
    await write({ kind: 'rack', ...moment, happenedAt: at(202 + 3 * i), batches: [] });
  }
  const [line] = await lineEvidence(database.query, [fresh.id]);
  const gyles = line?.ferments.map(({ gyle }) => gyle) ?? [];
  expect(gyles).toHaveLength(most);
  expect(gyles.slice(0, 2)).toEqual(['412', 'X0']);
  expect(gyles.at(-1)).toBe(`X${most + 2}`);
});
