import type { InferResponseType } from 'hono/client';
import { expect, test } from 'vitest';
import { aFerment, aStrain, at } from '#tests/support/brewery.ts';
import { anApi, type Client } from '#tests/support/server.ts';

type LotPage = InferResponseType<Client['lots'][':id']['standing']['$get'], 200>;

const chamber = {
  ...{ chamber: 'improved Neubauer, medium squares', squareAreaMm2: 0.04, depthMm: 0.1 },
  pipettingSteps: 1,
};
/** 200 cells in five squares at 1 in 200 are 2e9 cells/mL. */
const slurryCount = {
  ...chamber,
  fillings: [{ squares: [40, 41, 39, 42, 38], dilutionFactor: 200, dilution: 1 }],
};

/** A brewery that writes down and reads back. */
async function aBench() {
  const { get, write } = await anApi();
  const standing = async (id: string): Promise<LotPage> =>
    (await get(`/api/lots/${id}/standing`)).json();
  const strain = await write(0, aStrain());
  const freshLot = (hours: number, code: string) =>
    write(hours, {
      ...{ kind: 'freshCulture', strainId: strain.id, origin: 'bought' },
      ...{ generation: 0, amountL: 100, code },
    });
  return { write, standing, strain, freshLot };
}

/** Pitches 10 L into 2000 L, which makes 1e7 cells/mL, and counts so many squares' worth an hour on. */
async function pitchAndCount(
  bench: Awaited<ReturnType<typeof aBench>>,
  { lotId, hours, squares }: { lotId: string; hours: number; squares: readonly number[] },
) {
  const { write, strain } = bench;
  const vessel = await write(hours, { kind: 'vessel', name: `FV${hours}` });
  const gyle = await write(
    hours,
    aFerment({
      ...{ vesselId: vessel.id, strainId: strain.id, gyle: String(hours) },
      ...{ volumeL: 2000, happenedAt: at(hours) },
    }),
  );
  await write(hours + 1, { kind: 'pitch', fermentId: gyle.id, lotId, amountL: 10 });
  return write(hours + 2, {
    ...{ kind: 'reading', fermentId: gyle.id },
    count: { ...chamber, fillings: [{ squares, dilutionFactor: 1, dilution: 1 }] },
  });
}

test('without records the loss is the published one, within its factor of four', async () => {
  const { freshLot, standing } = await aBench();
  const lot = await freshLot(1, 'TN-A');
  const { storageLoss, slurryBias, usualCells } = (await standing(lot.id)).learned;
  expect(storageLoss.lots).toBe(0);
  expect(storageLoss.learned.value).toBeCloseTo(0.0121, 6);
  expect(storageLoss.prior.high / 0.0121).toBeCloseTo(4, 1);
  expect([slurryBias, usualCells]).toEqual([null, null]);
});

test('lots stained twice teach the loss, and the prediction follows it', async () => {
  const { write, freshLot, standing } = await aBench();
  const stain = (hours: number, lotId: string, live: number) =>
    write(hours, { kind: 'stain', lotId, stain: 'methylene blue', live, dead: 1000 - live });
  const ids: string[] = [];
  for (const [nth, code] of ['TN-A', 'TN-B', 'TN-C', 'TN-D'].entries()) {
    const { id } = await freshLot(nth, code);
    await write(nth, { kind: 'storeReading', lotId: id, tempC: 1 });
    await stain(nth, id, 970);
    ids.push(id);
  }
  // 4 days at 1 °C lose 4 × 0.03 = 11 %, far more than the published 1.2 % a day.
  for (const [nth, id] of ids.entries()) await stain(nth + 96, id, 860);
  const lot = await freshLot(100, 'TN-E');
  await write(100, { kind: 'storeReading', lotId: lot.id, tempC: 1 });
  await stain(100, lot.id, 970);
  await write(148, { kind: 'storeReading', lotId: lot.id, tempC: 1 });
  const { learned, stain: stained } = await standing(lot.id);
  expect(learned.storageLoss.lots).toBe(4);
  expect(learned.storageLoss.learned.value).toBeGreaterThan(0.024);
  expect(learned.storageLoss.learned.low).toBeGreaterThan(learned.storageLoss.prior.value);
  const survived = Math.exp(-2 * learned.storageLoss.rate.perDay);
  expect(stained?.predictedNow.value).toBeCloseTo(97 * survived, 6);
});

test('a wash between two stains, or another dye, teaches nothing of the store', async () => {
  const { write, freshLot, standing } = await aBench();
  const stain = (hours: number, lotId: string, dye: string) =>
    write(hours, { kind: 'stain', lotId, stain: dye, live: 900, dead: 100 });
  const washed = await freshLot(0, 'TN-A');
  await stain(1, washed.id, 'methylene blue');
  await write(2, { kind: 'treatment', lotId: washed.id, treatment: 'acid wash', ph: 2.2 });
  await stain(50, washed.id, 'methylene blue');
  const changed = await freshLot(51, 'TN-B');
  await stain(52, changed.id, 'methylene blue');
  await stain(90, changed.id, 'citrate methylene violet');
  expect((await standing(changed.id)).learned.storageLoss.lots).toBe(0);
});

test('counts in the FV tell a bias once it is plain, and never move a figure by themselves', async () => {
  const bench = await aBench();
  const lot = await bench.freshLot(0, 'TN-A');
  await bench.write(1, { kind: 'count', lotId: lot.id, basis: 'mL', ...slurryCount });
  // 1e7 cells/mL promised are 40 in a square; 28 are found: 70 %.
  const found = [28, 29, 27, 28, 28];
  for (const hours of [10, 20])
    await pitchAndCount(bench, { lotId: lot.id, hours, squares: found });
  const early = (await bench.standing(lot.id)).learned.slurryBias;
  expect(early).toMatchObject({ pairs: 2, distinguishable: false, origin: 'fresh culture' });
  for (const hours of [30, 40, 50])
    await pitchAndCount(bench, { lotId: lot.id, hours, squares: found });
  const { learned, count } = await bench.standing(lot.id);
  expect(learned.slurryBias).toMatchObject({ pairs: 5, distinguishable: true, unit: 'L' });
  expect(learned.slurryBias?.ratio).toBeCloseTo(0.7, 2);
  expect(learned.slurryBias?.high).toBeLessThan(1);
  expect((count?.cellsPer.value ?? 0) / 2e9).toBeCloseTo(1, 9);
});

test('a count in the FV after six hours counts buds, and teaches nothing of the bench', async () => {
  const bench = await aBench();
  const lot = await bench.freshLot(0, 'TN-A');
  await bench.write(1, { kind: 'count', lotId: lot.id, basis: 'mL', ...slurryCount });
  const reading = await pitchAndCount(bench, {
    ...{ lotId: lot.id, hours: 10, squares: [40, 40] },
  });
  expect(reading.kind).toBe('reading');
  expect((await bench.standing(lot.id)).learned.slurryBias?.pairs).toBe(1);
  const other = await bench.freshLot(20, 'TN-B');
  const vessel = await bench.write(20, { kind: 'vessel', name: 'FV9' });
  const gyle = await bench.write(
    20,
    aFerment({
      ...{ vesselId: vessel.id, strainId: bench.strain.id, gyle: '900' },
      happenedAt: at(20),
    }),
  );
  await bench.write(21, { kind: 'pitch', fermentId: gyle.id, lotId: other.id, amountL: 10 });
  await bench.write(28, { kind: 'reading', fermentId: gyle.id, cellsPerMl: 9e6 });
  expect((await bench.standing(lot.id)).learned.slurryBias?.pairs).toBe(1);
});

test('three counts of a kind of lot stand in for the one not counted', async () => {
  const bench = await aBench();
  for (const [nth, code] of ['TN-A', 'TN-B', 'TN-C'].entries()) {
    const lot = await bench.freshLot(nth, code);
    await bench.write(nth, { kind: 'count', lotId: lot.id, basis: 'mL', ...slurryCount });
  }
  const uncounted = await bench.freshLot(5, 'TN-D');
  const { usualCells } = (await bench.standing(uncounted.id)).learned;
  expect(usualCells).toMatchObject({ lots: 3, unit: 'L', origin: 'fresh culture' });
  expect((usualCells?.value ?? 0) / 2e9).toBeCloseTo(1, 9);
});

test('a pitch keeps the correction it was reckoned with', async () => {
  const bench = await aBench();
  const lot = await bench.freshLot(0, 'TN-A');
  const vessel = await bench.write(1, { kind: 'vessel', name: 'FV1' });
  const gyle = await bench.write(
    1,
    aFerment({ vesselId: vessel.id, strainId: bench.strain.id, happenedAt: at(1) }),
  );
  await bench.write(2, {
    ...{ kind: 'pitch', fermentId: gyle.id, lotId: lot.id, amountL: 10 },
    slurryCorrection: 0.83,
  });
  const { history } = await bench.standing(lot.id);
  const pitch = history.find(({ kind }) => kind === 'pitch');
  expect(pitch?.body).toMatchObject({ slurryCorrection: 0.83 });
});
