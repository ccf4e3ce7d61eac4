import type { InferResponseType } from 'hono/client';
import { expect, test } from 'vitest';
import type { FermentSheet } from '#shared/views/ferments.ts';
import type { LineSheet } from '#shared/views/lines.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import type { Today } from '#shared/views/today.ts';
import { aStrain } from '#tests/support/brewery.ts';
import { anApi, type Client } from '#tests/support/server.ts';

type Sum = InferResponseType<Client['calculations']['pitch']['$post'], 200>;

test('the whole loop: fresh culture, pitch, ferment, crop, count, stain, verdict, next pitch', async () => {
  const { get, post, write } = await anApi();
  const strain = await write(0, aStrain());
  const fv = await write(0, { kind: 'vessel', name: 'FV1' });
  const fv2 = await write(0, { kind: 'vessel', name: 'FV2' });
  const fresh = await write(0, {
    kind: 'freshCulture',
    strainId: strain.id,
    origin: 'bought',
    generation: 0,
    amountL: 20,
  });
  const wort = {
    beer: 'Headland Bitter',
    strainId: strain.id,
    volumeL: 1636.59,
    originalGravitySg: 1.04,
  };
  const gyle = await write(1, { kind: 'ferment', gyle: '412', vesselId: fv.id, ...wort });
  await write(2, { kind: 'pitch', fermentId: gyle.id, lotId: fresh.id, amountL: 11 });
  for (const [hours, gravitySg] of [
    [14, 1.038],
    [26, 1.031],
    [38, 1.02],
    [50, 1.013],
  ] as const)
    await write(hours, { kind: 'reading', fermentId: gyle.id, gravitySg, tempC: 20 });

  const today: Today = await (await get('/api/today')).json();
  expect(today.actions.map((action) => action.title)).toContain('Crop FV1');

  const crop = await write(50, { kind: 'crop', fermentId: gyle.id, cut: 'skim 2', amountL: 30 });
  expect(crop.code).toBe('TN-412A');
  await write(51, { kind: 'storeReading', lotId: crop.id, tempC: 3 });
  const untested: LotStanding = await (await get(`/api/lots/${crop.id}/standing`)).json();
  expect(untested.generation).toBe(1);
  expect(untested.verdict.verdict).toBe('test first');

  // 187 cells in five medium squares at 1 in 100 is 9.35e8 cells/mL.
  const squares = [38, 41, 35, 37, 36];
  await write(70, {
    kind: 'count',
    lotId: crop.id,
    basis: 'mL',
    chamber: 'improved Neubauer, medium squares',
    squareAreaMm2: 0.04,
    depthMm: 0.1,
    pipettingSteps: 1,
    fillings: [{ squares, dilutionFactor: 100, dilution: 1 }],
  });
  await write(70, { kind: 'stain', lotId: crop.id, stain: 'methylene blue', live: 388, dead: 12 });
  const tested: LotStanding = await (await get(`/api/lots/${crop.id}/standing`)).json();
  expect(tested.count?.cellsPer.value).toBeCloseTo(9.35e8, -3);
  expect(tested.stain?.percent.value).toBeCloseTo(97, 10);
  expect(tested.verdict.verdict).toBe('fit');

  const sum: Sum = await (
    await post('/api/calculations/pitch', {
      wort: { volumeL: 1636.59, gravitySg: 1.04 },
      rateMillionPerMlPerPlato: 0.75,
      lots: [
        {
          id: crop.code,
          count: { squares, squareAreaMm2: 0.04, depthMm: 0.1, dilutionFactor: 100 },
          live: 388,
          dead: 12,
          availableL: 30,
        },
      ],
    })
  ).json();
  // 1.2265e13 cells / (9.35e8 × 0.97 cells/mL) = 13.52 L, by hand.
  expect(sum.lots[0]?.amount).toBeCloseTo(13.52, 2);
  expect(sum.lots[0]?.low).toBeLessThan(12);
  expect(sum.lots[0]?.high).toBeGreaterThan(15);
  expect(sum.lots[0]?.leftAfter).toBeCloseTo(30 - 13.52, 2);

  const second = await write(71, { kind: 'ferment', gyle: '413', vesselId: fv2.id, ...wort });
  await write(72, { kind: 'pitch', fermentId: second.id, lotId: crop.id, amountL: 13.5 });
  const after: LotStanding = await (await get(`/api/lots/${crop.id}/standing`)).json();
  expect(after.left).toBe(16.5);
  await write(76, { kind: 'chill', fermentId: gyle.id, toTempC: 10 });
  await write(98, {
    kind: 'rack',
    fermentId: gyle.id,
    gravitySg: 1.01,
    batches: ['412/1', '412/2'],
  });
  const ferment: FermentSheet = await (await get(`/api/ferments/${gyle.id}/standing`)).json();
  expect(ferment.state).toBe('racked');
  expect(ferment.apparentAttenuationPercent).toBeCloseTo(75, 9);
  expect(ferment.crops).toMatchObject([{ code: 'TN-412A', cut: 'skim 2' }]);

  const line: LineSheet = await (await get(`/api/lines/${fresh.id}`)).json();
  expect(line.points.map((point) => [point.gyle, point.generation])).toEqual([
    ['412', 0],
    ['413', 1],
  ]);
  expect(line.points[1]?.viabilityPercent).toBeCloseTo(97, 10);
  expect(line.points[0]?.cropRatio).toBeCloseTo(30 / 11, 10);
});
