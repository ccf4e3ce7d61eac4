import { expect, test } from 'vitest';
import { lotStandings } from '#api/standings.ts';
import { entriesAbout } from '#db/reads/history.ts';
import { traceEvidence } from '#db/reads/trace.ts';
import { projectionDump, rebuild } from '#db/safety/upkeep.ts';
import { hourMs } from '#shared/durations.ts';
import { traceOf } from '#shared/lineage/trace.ts';
import { aFerment, aSmallStory, at, storyStartMs } from '#tests/support/brewery.ts';

const by = 'Ines';
const later = storyStartMs + 200 * hourMs;

/** The small story gone on: the crop is pitched into gyle 413, and cropped; 412 is racked. */
async function aBranch() {
  const story = await aSmallStory();
  const { write, crop, fv2, strain } = story;
  const gyle = aFerment({ vesselId: fv2.id, strainId: strain.id, gyle: '413' });
  const second = await write({ ...gyle, happenedAt: at(46) });
  await write({
    ...{ kind: 'pitch', happenedAt: at(47), by, fermentId: second.id, lotId: crop.id },
    ...{ amountKg: 4 },
  });
  const cropOf = (hour: number) =>
    ({ kind: 'crop', happenedAt: at(hour), by, fermentId: second.id, cut: 'skim 1' }) as const;
  const below = await write({ ...cropOf(90), amountKg: 8 });
  const rack = await write({
    ...{ kind: 'rack', happenedAt: at(120), by, fermentId: second.id, batches: ['413/1'] },
  });
  const verdicts = async () =>
    (await lotStandings(story.database, [story.fresh.id, crop.id, below.id], later)).map(
      ({ held, verdict }) => [held?.why ?? null, verdict.verdict],
    );
  return { ...story, second, below, rack, cropOf, verdicts };
}

test('one hold of a family holds what is in store below, marks ferments and casks, and lets go', async () => {
  const { database, write, fresh, crop, second, below, rack, verdicts } = await aBranch();
  const hold = await write({
    ...{ kind: 'familyHold', happenedAt: at(130), by, lotId: crop.id, why: 'LWYM grew' },
  });
  expect((await verdicts()).map(([why]) => why)).toEqual([null, 'LWYM grew', 'LWYM grew']);
  const trace = traceOf(await traceEvidence(database.query, fresh.id));
  const status = (id: string) => trace.nodes.find((node) => node.id === id)?.status;
  expect([fresh.id, crop.id, below.id, second.id, rack.id].map(status)).toEqual([
    'plain',
    'held',
    'held',
    'attention',
    'attention',
  ]);
  expect(trace.holds).toMatchObject([{ id: hold.id, lots: 2, ferments: 1, released: null }]);

  const dump = await projectionDump(database);
  await rebuild(database);
  expect(await projectionDump(database)).toEqual(dump);

  const lift = { kind: 'familyRelease', happenedAt: at(150), by, holdId: hold.id } as const;
  const released = await write({ ...lift, why: 'PCR clear' });
  expect((await verdicts()).map(([why]) => why)).toEqual([null, null, null]);
  await expect(write({ ...lift, why: 'again' })).rejects.toThrow('This hold is lifted already');
  await write({
    ...{ kind: 'void', happenedAt: at(151), by, supersedes: released.id, reason: 'Wrong plate' },
  });
  expect((await verdicts()).map(([why]) => why)).toEqual([null, 'LWYM grew', 'LWYM grew']);
  await write({
    ...{ kind: 'void', happenedAt: at(152), by, supersedes: hold.id, reason: 'Wrong lot' },
  });
  expect((await verdicts()).map(([why]) => why)).toEqual([null, null, null]);
  expect((await entriesAbout(database.query, 'lotId', below.id)).map(({ kind }) => kind)).toEqual([
    'crop',
    'familyHold',
    'familyRelease',
    'void',
    'void',
  ]);
});

test('what is cropped later from a marked ferment is on hold too', async () => {
  const { database, write, crop, cropOf } = await aBranch();
  await write({
    ...{ kind: 'familyHold', happenedAt: at(130), by, lotId: crop.id, why: 'LWYM grew' },
  });
  const late = await write({ ...cropOf(131), amountKg: 2 });
  const [standing] = await lotStandings(database, [late.id], later);
  expect(standing?.held?.why).toBe('LWYM grew');
});

test('two holds of a family are lifted one by one; a release of one lot clears them for it', async () => {
  const { write, crop, below, verdicts } = await aBranch();
  const hold = (hour: number, why: string) =>
    write({ kind: 'familyHold', happenedAt: at(hour), by, lotId: crop.id, why });
  const first = await hold(130, 'LWYM grew');
  await hold(131, 'Smells of cloves');
  await write({
    ...{ kind: 'familyRelease', happenedAt: at(132), by, holdId: first.id, why: 'PCR clear' },
  });
  expect((await verdicts()).map(([why]) => why)).toEqual([
    null,
    'Smells of cloves',
    'Smells of cloves',
  ]);
  await write({ kind: 'release', happenedAt: at(133), by, lotId: below.id, why: 'Tasted' });
  expect((await verdicts()).map(([why]) => why)).toEqual([null, 'Smells of cloves', null]);
});

test('a correction of the reason holds what was held at first', async () => {
  const { database, write, crop, cropOf } = await aBranch();
  const said = { kind: 'familyHold', happenedAt: at(130), by, lotId: crop.id } as const;
  const hold = await write({ ...said, why: 'LWYN grew' });
  await write({ ...cropOf(140), amountKg: 2 });
  await write({ ...said, why: 'LWYM grew', supersedes: hold.id, reason: 'Mistyped' });
  const trace = traceOf(await traceEvidence(database.query, crop.id));
  expect(trace.holds).toMatchObject([{ why: 'LWYM grew', lots: 2, ferments: 1 }]);
});

test('a lot used up, from which nothing came, is not held', async () => {
  const { write, crop } = await aSmallStory();
  await write({
    ...{ kind: 'discard', happenedAt: at(50), by, lotId: crop.id, amountKg: 10, why: 'Old' },
  });
  await expect(
    write({ kind: 'familyHold', happenedAt: at(51), by, lotId: crop.id, why: 'Late' }),
  ).rejects.toThrow('Nothing is left of it, and nothing came from it.');
});

test('a held lot is pitched only with a reason, which shows for ever on lot, ferment and casks', async () => {
  const { database, write, crop, second, fv1, strain, ferment } = await aBranch();
  await write({
    ...{ kind: 'familyHold', happenedAt: at(130), by, lotId: crop.id, why: 'LWYM grew' },
  });
  await write({ kind: 'rack', happenedAt: at(131), by, fermentId: ferment.id, batches: [] });
  const gyle = aFerment({ vesselId: fv1.id, strainId: strain.id, gyle: '414' });
  const third = await write({ ...gyle, happenedAt: at(132) });
  const into = { kind: 'pitch', by, fermentId: third.id, lotId: crop.id, amountKg: 1 } as const;
  await expect(write({ ...into, happenedAt: at(133) })).rejects.toThrow(
    'Lot TN-412A is on hold (LWYM grew): say why it is pitched all the same',
  );
  const override = 'Sent to the still, not to trade';
  const pitch = await write({ ...into, happenedAt: at(133), override });
  const rack = await write({
    ...{ kind: 'rack', happenedAt: at(200), by, fermentId: third.id, batches: ['414/1'] },
  });
  const trace = traceOf(await traceEvidence(database.query, crop.id));
  const further = `TN-412A: ${override}`;
  for (const [id, text] of [
    [crop.id, override],
    [third.id, further],
    [rack.id, further],
  ])
    expect(trace.nodes.find((node) => node.id === id)?.marks).toContainEqual({
      ...{ what: 'pitched all the same', text, at: at(133), by, isOver: false },
    });
  expect(trace.nodes.find((node) => node.id === second.id)?.marks).toHaveLength(1);
  await expect(
    write({ ...into, happenedAt: at(133), supersedes: pitch.id, reason: 'Tidying' }),
  ).rejects.toThrow('say why it is pitched all the same');
});

test('a pitch that happened before the hold needs no reason, though it is written down after', async () => {
  const { write, crop, fv1, strain, ferment } = await aBranch();
  await write({ kind: 'rack', happenedAt: at(121), by, fermentId: ferment.id, batches: [] });
  const gyle = aFerment({ vesselId: fv1.id, strainId: strain.id, gyle: '414' });
  const third = await write({ ...gyle, happenedAt: at(122) });
  await write({ kind: 'hold', happenedAt: at(130), by, lotId: crop.id, why: 'Smell' });
  const pitch = await write({
    ...{ kind: 'pitch', happenedAt: at(123), by, fermentId: third.id, lotId: crop.id },
    ...{ amountKg: 1 },
  });
  expect(pitch.warnings).toEqual([]);
});
