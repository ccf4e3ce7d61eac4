import { expect, test } from 'vitest';
import { planOf } from '#api/plan.ts';
import { lotStandings } from '#api/standings.ts';
import { firstFallback, knownLot } from '#shared/lots/knownLot.ts';
import { survivalAfter } from '#shared/science/storage.ts';
import { aFerment, at, nextId } from '#tests/support/brewery.ts';
import { aPlanStory } from '#tests/support/planStory.ts';

const by = 'Ines';

/** Two crops of one strain, the second counted at half the cells and stained weaker, blended 6 kg to 2. */
async function aBlend({ isSecondCounted = true } = {}) {
  const story = await aPlanStory();
  const { write, crop, vessel, strain, fresh } = story;
  const gyle = await write(
    aFerment({ happenedAt: at(46.1), gyle: '413', vesselId: vessel.id, strainId: strain.id }),
  );
  const pitched = { fermentId: gyle.id, lotId: crop.id, amountKg: 1 };
  await write({ kind: 'pitch', happenedAt: at(46.2), by, ...pitched });
  const second = await write({
    ...{ kind: 'crop', happenedAt: at(46.5), by, fermentId: gyle.id, cut: 'skim 2', amountKg: 4 },
  });
  if (isSecondCounted)
    await write({
      ...{ kind: 'count', happenedAt: at(47), by, lotId: second.id, basis: 'g' },
      ...{ chamber: 'Neubauer', squareAreaMm2: 0.04, depthMm: 0.1, pipettingSteps: 2 },
      fillings: [{ squares: [38, 41, 35, 37, 36, 40, 39, 41], dilutionFactor: 100, dilution: 1 }],
    });
  await write({
    ...{ kind: 'stain', happenedAt: at(47), by, lotId: second.id, stain: 'methylene blue' },
    ...{ live: 360, dead: 40 },
  });
  const id = nextId();
  const parents = [
    { lotId: crop.id, amountKg: 6 },
    { lotId: second.id, amountKg: 2 },
  ];
  await write({ kind: 'blend', happenedAt: at(48), by, parents, amountKg: 8 }, id);
  return { ...story, id, fresh, nowMs: Date.parse(at(72)) };
}

async function standingOf({ database, id, nowMs }: Awaited<ReturnType<typeof aBlend>>) {
  const [standing] = await lotStandings(database, [id], nowMs);
  if (standing === undefined) throw new Error('There is no blend.');
  return standing;
}

test('a blend that nobody counted holds what the lots in it hold, by how much of each went in', async () => {
  const story = await aBlend();
  const blend = await standingOf(story);
  // 307 cells in eight squares of 4e-6 mL, at 1 in 200 and at 1 in 100, 6 parts to 2.
  const cells = (307 / 8 / 4e-6) * ((6 * 200 + 2 * 100) / 8);
  expect((blend.byParts?.cellsPer.value ?? 0) / cells).toBeCloseTo(1, 6);
  expect(blend.byParts?.cellsPer.low).toBeLessThan(0.95 * cells);
  expect(blend.byParts?.cellsPer.high).toBeGreaterThan(1.05 * cells);
  // Weighed by cells, 12 to 2: 97 % and 90 % alive when stained, an hour or two before.
  expect(blend.byParts?.percent.value).toBeCloseTo((12 * 97 + 2 * 90) / 14, 0);
  expect(blend.byParts?.parts).toMatchObject([{ isCounted: true }, { isCounted: true }]);
  expect(blend.verdict.reasons.map(({ text }) => text)).toContain(
    'Not counted since it was blended: its cells are worked out from the lots in it',
  );
});

test('a pitch and the plan take a blend by its parts, less what died since, and with a narrower range than a guess', async () => {
  const story = await aBlend();
  const blend = await standingOf(story);
  const known = knownLot(blend, firstFallback(blend), undefined);
  const guess = knownLot({ ...blend, byParts: null }, 'barm', undefined);
  if ('unusable' in known || 'unusable' in guess) throw new Error('It can be pitched.');
  expect(known.density).toMatchObject({ counted: false, fallback: { id: 'parts' } });
  expect(known.pitchLot.concentrationLogSd).toBeLessThan(guess.pitchLot.concentrationLogSd / 2);
  // A day at the warm end of the store band, 4 °C, since it was blended.
  const left = survivalAfter([{ hours: 24, tempC: 4 }], blend.learned.storageLoss.rate);
  expect(known.alive).toBeCloseTo(((blend.byParts?.percent.value ?? 0) / 100) * left.fraction, 6);
  const { sources } = await planOf(story.database, story.nowMs);
  const source = sources.find(({ id }) => id === story.id);
  const cells = 8000 * (blend.byParts?.cellsPer.value ?? 0) * known.alive;
  expect((source?.cells.value ?? 0) / cells).toBeCloseTo(1, 3);
});

test('a part that nobody counted is said, and widens the range', async () => {
  const whole = await standingOf(await aBlend());
  const part = await standingOf(await aBlend({ isSecondCounted: false }));
  expect(part.byParts?.parts.map(({ isCounted }) => isCounted)).toEqual([true, false]);
  expect(part.byParts?.cellsLogSd).toBeGreaterThan(whole.byParts?.cellsLogSd ?? 1);
});

test('a blend that was counted and stained itself goes by that', async () => {
  const story = await aBlend();
  await story.write({
    ...{ kind: 'count', happenedAt: at(70), by, lotId: story.id, basis: 'g', chamber: 'Neubauer' },
    ...{ squareAreaMm2: 0.04, depthMm: 0.1, pipettingSteps: 2 },
    fillings: [{ squares: [30, 31, 29, 30], dilutionFactor: 200, dilution: 1 }],
  });
  expect((await standingOf(story)).byParts).not.toBeNull();
  await story.write({
    ...{ kind: 'stain', happenedAt: at(70), by, lotId: story.id, stain: 'methylene blue' },
    ...{ live: 388, dead: 12 },
  });
  expect((await standingOf(story)).byParts).toBeNull();
});

test('a blend is as old as the oldest crop in it, for its verdict and for how long it keeps', async () => {
  const story = await aBlend();
  const [oldest] = await lotStandings(story.database, [story.crop.id], story.nowMs);
  const blend = await standingOf(story);
  expect(blend.takenAt).toBe(oldest?.takenAt);
  expect(blend.ageHours).toBeGreaterThan(24);
  const lateMs = Date.parse(blend.takenAt) + (blend.strain.maxStorageDays + 0.1) * 86_400_000;
  const late = await standingOf({ ...story, nowMs: lateMs });
  expect(late.verdict.reasons.map(({ text }) => text)).toContain('Stored too long');
  // Blended anew with what is younger, it stays as old.
  const id = nextId();
  const parents = [
    { lotId: story.id, amountKg: 2 },
    { lotId: story.crop.id, amountKg: 1 },
  ];
  await story.write({ kind: 'blend', happenedAt: at(60), by, parents, amountKg: 3 }, id);
  expect((await standingOf({ ...story, id })).takenAt).toBe(blend.takenAt);
});
