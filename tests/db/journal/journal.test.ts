import { expect, test } from 'vitest';
import { record } from '#db/journal/journal.ts';
import {
  aFerment,
  aLog,
  aSmallStory,
  aStrain,
  at,
  freshDatabase,
  nextId,
} from '#tests/support/brewery.ts';

const source = { receivedMs: Date.parse(at(100)), actor: 'local', via: 'web' as const };
const lots =
  'SELECT code, generation, times_pitched, left_l, left_kg FROM lot ORDER BY happened_ms';

test('a crop bears the gyle in its code and is one generation older', async () => {
  const { database, crop } = await aSmallStory();
  expect(crop.code).toBe('TN-412A');
  const { rows } = await database.execute(lots);
  expect(rows.map((row) => ({ ...row }))).toEqual([
    { code: 'TN-F1', generation: 0, times_pitched: 0, left_l: 9, left_kg: null },
    { code: 'TN-412A', generation: 1, times_pitched: 1, left_l: null, left_kg: 10 },
  ]);
});

test('the same entry again changes nothing and is answered alike', async () => {
  const database = await freshDatabase();
  const id = nextId();
  const first = await record(database, id, aStrain(), source);
  const again = await record(database, id, aStrain(), {
    ...source,
    receivedMs: source.receivedMs + 9,
  });
  expect(first.isReplay).toBe(false);
  expect(again).toEqual({ recorded: first.recorded, isReplay: true });
  const { rows } = await database.execute('SELECT count(*) AS entries FROM journal');
  expect(rows[0]?.entries).toBe(1);
});

test('another entry under the same id is a conflict', async () => {
  const database = await freshDatabase();
  const id = nextId();
  await record(database, id, aStrain(), source);
  await expect(record(database, id, aStrain({ name: 'Skua' }), source)).rejects.toMatchObject({
    code: 'conflict',
  });
});

test('a correction replaces the facts and keeps the record and its code', async () => {
  const { database, write, fresh, strain } = await aSmallStory();
  const corrected = await write({
    kind: 'freshCulture',
    happenedAt: at(0),
    by: 'Ines',
    strainId: strain.id,
    origin: 'bought',
    generation: 2,
    amountL: 25,
    supersedes: fresh.id,
    reason: 'the label says second generation',
  });
  expect(corrected.recordId).toBe(fresh.id);
  const { rows } = await database.execute(lots);
  expect(rows.map((row) => ({ ...row }))).toEqual([
    { code: 'TN-F1', generation: 2, times_pitched: 0, left_l: 14, left_kg: null },
    { code: 'TN-412A', generation: 3, times_pitched: 1, left_l: null, left_kg: 10 },
  ]);
});

test('an entry is corrected once; the second correction is a conflict', async () => {
  const { write, pitch, ferment, fresh } = await aSmallStory();
  const correction = {
    kind: 'pitch' as const,
    happenedAt: at(2),
    by: 'Ines',
    fermentId: ferment.id,
    lotId: fresh.id,
    amountL: 12,
    supersedes: pitch.id,
    reason: 'misread the dipstick',
  };
  await write(correction);
  await expect(write({ ...correction, amountL: 13 })).rejects.toMatchObject({ code: 'conflict' });
});

test('a pitch struck out gives its yeast back to the lot', async () => {
  const { database, write, crop, strain, fv2 } = await aSmallStory();
  const second = await write(
    aFerment({ gyle: '413', vesselId: fv2.id, strainId: strain.id, happenedAt: at(50) }),
  );
  const pitch = await write({
    kind: 'pitch',
    happenedAt: at(51),
    by: 'Tom',
    fermentId: second.id,
    lotId: crop.id,
    amountKg: 3,
  });
  const left = async () =>
    (await database.execute(`SELECT left_kg FROM lot WHERE id = '${crop.id}'`)).rows[0]?.left_kg;
  expect(await left()).toBe(7);
  await write({
    kind: 'void',
    happenedAt: at(52),
    by: 'Tom',
    supersedes: pitch.id,
    reason: 'wrong FV',
  });
  expect(await left()).toBe(10);
});

test('a pitch under a crop cannot be struck out', async () => {
  const { write, pitch } = await aSmallStory();
  const voiding = {
    kind: 'void' as const,
    happenedAt: at(60),
    by: 'Tom',
    supersedes: pitch.id,
    reason: 'no',
  };
  await expect(write(voiding)).rejects.toMatchObject({
    code: 'conflict',
    message: 'A crop was taken from this ferment: it needs its pitch.',
  });
});

test('yeast cannot descend from itself', async () => {
  const { write, crop, ferment } = await aSmallStory();
  const loop = {
    kind: 'pitch' as const,
    happenedAt: at(50),
    by: 'Tom',
    fermentId: ferment.id,
    lotId: crop.id,
    amountKg: 2,
  };
  await expect(write(loop)).rejects.toMatchObject({
    code: 'conflict',
    message: 'Yeast cannot descend from itself.',
  });
});

test('the database itself refuses a cycle and a crop from an unpitched ferment', async () => {
  const { database, crop, ferment, pitch, fv2, strain, write } = await aSmallStory();
  const unpitched = await write(
    aFerment({ gyle: '413', vesselId: fv2.id, strainId: strain.id, happenedAt: at(50) }),
  );
  const loop = `UPDATE pitch SET lot_id = '${crop.id}', amount_l = NULL, amount_kg = 1 WHERE id = '${pitch.id}'`;
  await expect(database.write([loop])).rejects.toThrow('yeast cannot descend from itself');
  const orphan = `UPDATE lot SET ferment_id = '${unpitched.id}' WHERE ferment_id = '${ferment.id}'`;
  await expect(database.write([orphan])).rejects.toThrow('a crop needs a ferment that was pitched');
});

test('a crop from a ferment that was never pitched is refused by field', async () => {
  const { write, fv2, strain } = await aSmallStory();
  const unpitched = await write(
    aFerment({ gyle: '413', vesselId: fv2.id, strainId: strain.id, happenedAt: at(50) }),
  );
  const crop = {
    kind: 'crop' as const,
    happenedAt: at(90),
    by: 'Tom',
    fermentId: unpitched.id,
    cut: 'skim 2' as const,
    amountKg: 8,
  };
  await expect(write(crop)).rejects.toMatchObject({
    code: 'invalid',
    errors: [{ path: 'fermentId', message: 'Gyle 413 was never pitched' }],
  });
});

test('a held lot is pitched only with a reason', async () => {
  const { write, crop, fv2, strain } = await aSmallStory();
  await write({ kind: 'hold', happenedAt: at(45), by: 'Ines', lotId: crop.id, why: 'odd smell' });
  const second = await write(
    aFerment({ gyle: '413', vesselId: fv2.id, strainId: strain.id, happenedAt: at(50) }),
  );
  const pitch = {
    kind: 'pitch' as const,
    happenedAt: at(51),
    by: 'Tom',
    fermentId: second.id,
    lotId: crop.id,
    amountKg: 3,
  };
  await expect(write(pitch)).rejects.toMatchObject({ errors: [{ path: 'override' }] });
  const overridden = await write({ ...pitch, override: 'smelt again, it was the bin' });
  expect(overridden.kind).toBe('pitch');
});

test('an amount in the wrong unit, a full FV and a time before collection name their fields', async () => {
  const { write, crop, strain, fv1, ferment, fv2 } = await aSmallStory();
  const taken = aFerment({
    gyle: '413',
    vesselId: fv1.id,
    strainId: strain.id,
    happenedAt: at(50),
  });
  await expect(write(taken)).rejects.toMatchObject({ errors: [{ path: 'vesselId' }] });
  const second = await write({ ...taken, vesselId: fv2.id });
  const litres = {
    kind: 'pitch' as const,
    happenedAt: at(51),
    by: 'Tom',
    fermentId: second.id,
    lotId: crop.id,
    amountL: 3,
  };
  await expect(write(litres)).rejects.toMatchObject({ errors: [{ path: 'amountKg' }] });
  const early = {
    kind: 'reading' as const,
    happenedAt: at(0),
    by: 'Tom',
    fermentId: ferment.id,
    gravitySg: 1.04,
  };
  await expect(write(early)).rejects.toMatchObject({ errors: [{ path: 'happenedAt' }] });
});

test('a gyle number is used once', async () => {
  const { write, fv2, strain } = await aSmallStory();
  await expect(
    write(aFerment({ vesselId: fv2.id, strainId: strain.id, happenedAt: at(50) })),
  ).rejects.toMatchObject({ code: 'invalid', errors: [{ path: 'gyle' }] });
});

test('a blend counts as old as its oldest lot and takes from each', async () => {
  const { database, write, crop, fresh, ferment } = await aSmallStory();
  const other = await write({
    kind: 'crop',
    happenedAt: at(46),
    by: 'Tom',
    fermentId: ferment.id,
    cut: 'later skim',
    amountKg: 6,
  });
  const blend = await write({
    kind: 'blend',
    happenedAt: at(47),
    by: 'Tom',
    parents: [
      { lotId: crop.id, amountKg: 4 },
      { lotId: fresh.id, amountL: 2 },
      { lotId: other.id, amountKg: 1 },
    ],
    amountKg: 7,
  });
  expect(blend.code).toBe('TN-B1');
  const { rows } = await database.execute(lots);
  expect(rows.map((row) => [row.code, row.generation, row.left_l ?? row.left_kg])).toEqual([
    ['TN-F1', 0, 7],
    ['TN-412A', 1, 6],
    ['TN-412B', 1, 5],
    ['TN-B1', 1, 7],
  ]);
});

test('thirty-two entries at once are all kept, in one chain', async () => {
  const log = aLog(await freshDatabase());
  const names = Array.from({ length: 32 }, (_, index) => `FV${index + 1}`);
  await Promise.all(
    names.map((name) => log.write({ kind: 'vessel', happenedAt: at(0), by: 'Tom', name })),
  );
  const { rows } = await log.database.execute('SELECT count(*) AS vessels FROM vessel');
  expect(rows[0]?.vessels).toBe(32);
});

test('more pitched than was left is recorded, with a warning that a replay repeats', async () => {
  const { database, crop, fv2, strain, write } = await aSmallStory();
  const second = await write(
    aFerment({ gyle: '413', vesselId: fv2.id, strainId: strain.id, happenedAt: at(50) }),
  );
  const id = nextId();
  const pitch = {
    kind: 'pitch' as const,
    happenedAt: at(51),
    by: 'Tom',
    fermentId: second.id,
    lotId: crop.id,
    amountKg: 12,
  };
  const first = await record(database, id, pitch, source);
  expect(first.recorded.warnings).toEqual([
    'By the record only 10 kg of TN-412A were left: check the amounts.',
  ]);
  expect((await record(database, id, pitch, source)).recorded).toEqual(first.recorded);
});
