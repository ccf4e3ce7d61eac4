import { expect, test } from 'vitest';
import { planOf } from '#api/plan.ts';
import { hourMs } from '#shared/durations.ts';
import { dayAfter } from '#shared/localDay.ts';
import { aFerment, at, storyStartMs } from '#tests/support/brewery.ts';
import { aPlanStory } from '#tests/support/planStory.ts';
import { anApi } from '#tests/support/server.ts';

const nowMs = storyStartMs + 48 * hourMs;
// The story's Wednesday.
const today = '2026-03-04';
const by = 'Ines';

test('the plan gives a brew the lot that is enough, in the amount that carries its cells', async () => {
  const { database, brew, crop } = await aPlanStory();
  const planned = await brew(dayAfter(today), 'Bitter');
  const plan = await planOf(database, nowMs);
  const [found] = plan.brews;
  expect(found).toMatchObject({ id: planned.id, state: 'fed', generation: 1 });
  // 1200 L at 1.040 (9.993 °P) and 0.75 million/mL/°P: 8.994e12 living cells.
  expect((found?.neededCells ?? 0) / 8.994e12).toBeCloseTo(1, 3);
  const [part, ...others] = found?.parts ?? [];
  expect(others).toEqual([]);
  expect(part).toMatchObject({ sourceId: crop.id, isSetByHand: false });
  // 307 cells in eight squares of 4e-6 mL... at 1 in 200: 1.919e9/g, 97 % alive, so about 4.8 kg.
  expect(part?.amount?.value).toBeGreaterThan(4.7);
  expect(part?.amount?.value).toBeLessThan(5.1);
  expect(part?.amount?.low).toBeLessThan(part?.amount?.value ?? 0);
  expect(part?.viabilityPercent.value).toBeLessThan(97);
  expect(part?.viabilityPercent.value).toBeGreaterThan(93);
});

test('a brew collected a day early asks for no yeast again, and is only one brew', async () => {
  const { database, brew, strain, vessel, write } = await aPlanStory();
  await brew(dayAfter(today), 'Bitter');
  const next = await brew(dayAfter(today, 2), 'Bitter');
  await write(
    aFerment({
      ...{ happenedAt: at(47), gyle: '430', beer: 'bitter' },
      ...{ vesselId: vessel.id, strainId: strain.id },
    }),
  );
  const { brews } = await planOf(database, nowMs);
  expect(brews.map(({ id, kind }) => [kind, id === next.id])).toEqual([
    ['collected', false],
    ['planned', true],
  ]);
});

test('a lot on hold feeds nothing, and the shortage says so', async () => {
  const { database, brew, crop, write } = await aPlanStory();
  await brew(dayAfter(today), 'Bitter');
  await write({ kind: 'hold', happenedAt: at(47), by, lotId: crop.id, why: 'Odd smell' });
  const { brews, shortages, fresh } = await planOf(database, nowMs);
  expect(brews.map(({ state, parts }) => [state, parts.length])).toEqual([['short', 0]]);
  expect(shortages).toHaveLength(1);
  expect(shortages[0]?.blocked).toEqual([
    { sourceId: crop.id, label: 'TN-412A', reason: 'held', why: 'On hold: Odd smell' },
  ]);
  expect(shortages[0]?.volumeWithoutL).toBeCloseTo(1200, 6);
  expect(fresh[0]?.need).toMatchObject({ because: 'a shortage', isLate: true });
});

test('fresh culture that nobody has stained feeds a brew, though its guessed share alive is under the limit', async () => {
  const { database, brew, crop, strain, write } = await aPlanStory({ minViabilityPercent: 90 });
  await write({ kind: 'hold', happenedAt: at(47), by, lotId: crop.id, why: 'Odd smell' });
  const unstainedLot = await write({
    ...{ kind: 'freshCulture', happenedAt: at(47), by, strainId: strain.id },
    ...{ origin: 'propagation', generation: 0, amountL: 60 },
  });
  await brew(dayAfter(today), 'Bitter');
  const { brews } = await planOf(database, nowMs);
  expect(brews.map(({ state, parts }) => [state, parts[0]?.sourceId])).toEqual([
    ['fed', unstainedLot.id],
  ]);
});

test('the crop of a brew feeds a later one, a generation on, until the house limit', async () => {
  const { database, brew } = await aPlanStory();
  for (const days of [1, 6, 11, 16]) await brew(dayAfter(today, days), `Bitter ${days}`);
  const { brews, shortages } = await planOf(database, nowMs);
  expect(brews.map(({ generation }) => generation)).toEqual([1, 2, 3, null]);
  expect(shortages[0]?.beer).toBe('Bitter 16');
  expect(shortages[0]?.blocked.map(({ reason }) => reason)).toContain('generation too high');
});

test('what was set by hand is kept, changed, and let go again', async () => {
  const { database, brew, crop, write } = await aPlanStory();
  const early = await brew(dayAfter(today), 'Bitter', 2000);
  const late = await brew(dayAfter(today, 2), 'Pale', 2000);
  const fedOf = async () =>
    (await planOf(database, nowMs)).brews
      .filter(({ state }) => state !== 'short')
      .map(({ id }) => id);
  expect(await fedOf()).toEqual([early.id]);
  const allotment = { kind: 'allotment', happenedAt: at(47), by, fromLotId: crop.id } as const;
  const set = await write({ ...allotment, plannedBrewId: late.id });
  expect(await fedOf()).toEqual([late.id]);
  const changed = await write({
    ...{ ...allotment, plannedBrewId: early.id },
    ...{ supersedes: set.id, reason: 'Pale can wait' },
  });
  expect(await fedOf()).toEqual([early.id]);
  const { kind: _, fromLotId: __, ...common } = allotment;
  await write({ ...common, kind: 'void', supersedes: changed.id, reason: 'Let it go' });
  expect(await fedOf()).toEqual([early.id]);
  expect((await planOf(database, nowMs)).brews[0]?.allotments).toEqual([]);
});

test('what was set by hand and cannot hold is said, and the brew is fed otherwise', async () => {
  const { database, brew, crop, fresh, write } = await aPlanStory();
  const planned = await brew(dayAfter(today), 'Bitter');
  await write({
    kind: 'allotment',
    happenedAt: at(47),
    by,
    plannedBrewId: planned.id,
    fromLotId: fresh.id,
  });
  const [found] = (await planOf(database, nowMs)).brews;
  expect(found?.parts.map(({ sourceId }) => sourceId)).toEqual([crop.id]);
  expect(found?.allotments).toMatchObject([{ holds: false, sourceId: null }]);
  expect(found?.allotments[0]?.why).toContain('used up');
});

test('a brew that was collected on its day asks for no yeast twice', async () => {
  const { database, brew, strain, vessel, write } = await aPlanStory();
  await brew(today, 'Headland Bitter');
  const { brews } = await planOf(database, nowMs);
  expect(brews).toHaveLength(1);
  const ferment = await write({
    ...{ kind: 'ferment', happenedAt: at(47.5), by, gyle: '413', beer: 'Headland Bitter ' },
    ...{ vesselId: vessel.id, strainId: strain.id, volumeL: 1200, originalGravitySg: 1.04 },
  });
  const after = await planOf(database, nowMs);
  expect(after.brews.map(({ id, kind }) => [id, kind])).toEqual([[ferment.id, 'collected']]);
});

test('fresh culture under way feeds the brews after its day', async () => {
  const { database, brew, strain, write } = await aPlanStory();
  await brew(dayAfter(today, 12), 'Bitter');
  const before = await planOf(database, nowMs);
  expect(before.shortages).toHaveLength(1);
  expect(before.fresh[0]?.need?.steps.length).toBeGreaterThan(3);
  await write({
    ...{ kind: 'freshCulturePolicy', happenedAt: at(47), by, strainId: strain.id },
    ...{ comesFrom: 'bought', expectedOn: dayAfter(today, 11) },
  });
  const { brews, shortages } = await planOf(database, nowMs);
  expect(shortages).toEqual([]);
  expect(brews[0]).toMatchObject({ generation: 0, parts: [{ label: 'fresh Tern' }] });
});

test('costs of one’s own give the cheapest length of a line, by trying every one', async () => {
  const { database, strain, write } = await aPlanStory();
  await write({
    ...{
      kind: 'freshCulturePolicy',
      happenedAt: at(47),
      by,
      strainId: strain.id,
      comesFrom: 'slope',
    },
    ...{ freshCultureCost: 180, extraCostPerGeneration: 3.6, lostBrewCost: 0, lostBrewPercent: 0 },
  });
  const cost = (await planOf(database, nowMs)).fresh[0]?.cost;
  expect(cost?.chancesFrom).toBe('your own figures');
  // The house allows generations 0 to 3, and 180/N + 1.8 (N - 1) still falls at N = 4.
  expect(cost).toMatchObject({ best: { brews: 4 }, isAtEnd: true });
  expect(cost?.keepFor.map(({ brews }) => brews)).toEqual([0, 1, 2, 3]);
});

test('GET /api/plan answers the plan of 28 days, or of as many as are asked for', async () => {
  const { get } = await anApi();
  const plan = await (await get('/api/plan')).json();
  expect(plan).toMatchObject({ fromDay: '2026-03-02', toDay: '2026-03-30', brews: [], fresh: [] });
  const week = await (await get('/api/plan?days=7')).json();
  expect(week.toDay).toBe('2026-03-09');
  expect((await get('/api/plan?days=0')).status).toBe(422);
  expect((await get('/api/plan?days=all')).status).toBe(422);
});

test('a crop to come is said as the strain’s usual slurry too, with the range of both', async () => {
  const { database, brew } = await aPlanStory();
  await brew(dayAfter(today), 'Bitter');
  await brew(dayAfter(today, 5), 'Pale');
  const { sources, brews, yields } = await planOf(database, nowMs);
  const crop = sources.find(
    ({ kind, sharePlanned }) => kind === 'planned crop' && sharePlanned > 0,
  );
  const alive = (yields[0]?.viabilityPercent.value ?? 0) / 100;
  // Skimmed barm of 1.8e9 cells/g, for want of lots counted in numbers.
  expect((crop?.slurry?.cellsPerUnit ?? 0) / (1.8e12 * alive)).toBeCloseTo(1, 6);
  expect(
    ((crop?.slurry?.value ?? 0) * (crop?.slurry?.cellsPerUnit ?? 0)) / (crop?.cells.value ?? 1),
  ).toBeCloseTo(1, 6);
  const spread = (range: { value: number; high: number } | null | undefined) =>
    (range?.high ?? 0) / (range?.value ?? 1);
  expect(spread(crop?.slurry)).toBeGreaterThan(spread(crop?.cells));
  const [part] = brews.find(({ beer }) => beer === 'Pale')?.parts ?? [];
  expect(part).toMatchObject({ isToCome: true, amount: { unit: 'kg' } });
  expect(
    (part?.amount?.value ?? 0) / ((crop?.slurry?.value ?? 0) * (part?.shareOfSource ?? 0)),
  ).toBeCloseTo(1, 6);
  expect(sources.filter(({ kind }) => kind === 'lot').map(({ slurry }) => slurry)).toEqual([null]);
});
