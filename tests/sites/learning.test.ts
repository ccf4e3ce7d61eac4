import { expect, test } from 'vitest';
import { lineOf, linesOf } from '#api/lines.ts';
import type { SiteView } from '#api/siteView.ts';
import { rackedFermentIds } from '#db/reads/ferments.ts';
import { pastBrews, pastCrops } from '#db/reads/plan.ts';
import { getRecord } from '#db/reads/records.ts';
import { strainHistory } from '#db/reads/strainHistory.ts';
import { listSites, scopeOf } from '#db/sites/sites.ts';
import { at, storyStartMs } from '../support/brewery.ts';
import { twoSites } from './twoSites.ts';

const by = 'Ines';
const chamber = {
  ...{ chamber: 'improved Neubauer, medium squares', squareAreaMm2: 0.04, depthMm: 0.1 },
  pipettingSteps: 1,
};
const squares = [40, 41, 39, 42, 38];
const fillings = [{ squares, dilutionFactor: 200, dilution: 1 }];
const counted = { ...chamber, fillings, basis: 'g' as const };

/** The crop stained at home, half of it sent, counted and pitched there. */
async function pitchedThere() {
  const story = await twoSites();
  const { database, write, crop, sent, weirFerment, strain } = story;
  const stain = { kind: 'stain', by, stain: 'methylene blue', live: 95, dead: 5 } as const;
  await write({ ...stain, happenedAt: at(46), lotId: crop.id });
  await write({ kind: 'count', by, ...counted, happenedAt: at(48), lotId: sent.id });
  // Of what stayed at home, after the rest had gone: it says nothing of what was sent.
  await write({ ...stain, happenedAt: at(48), lotId: crop.id, live: 50, dead: 50 });
  const pitch = { kind: 'pitch', by, fermentId: weirFerment.id, lotId: sent.id } as const;
  await write({ ...pitch, happenedAt: at(49), amountKg: 4 });
  const sites = await listSites(database.query);
  const view = (id: string | undefined): SiteView => ({
    ...{ brewery: null, sites, site: sites.find((site) => site.id === id) ?? null },
    ...{ at: scopeOf(sites, id), timeZone: 'UTC' },
  });
  const services = { database, now: () => storyStartMs + 72 * 3_600_000 };
  return { ...story, view, services, strain };
}

test('a line kept at two sites is measured at each by the ferments there', async () => {
  const { view, services, home, weir, fresh, ferment, weirFerment } = await pitchedThere();
  const here = await lineOf(services, view(home.id), fresh.id);
  const there = await lineOf(services, view(weir.id), fresh.id);
  const ferments = ({ points }: typeof here) => points.map(({ fermentId }) => fermentId);
  expect([ferments(here), ferments(there)]).toEqual([[ferment.id], [weirFerment.id]]);
  expect([here.siteId, there.siteId]).toEqual([null, weir.id]);
  expect(here.sites).toEqual([null, weir.id]);
  expect([here.running, there.running]).toEqual([1, 1]);
});

test('of all sites a line stands in the list once for each', async () => {
  const { view, services, weir, fresh } = await pitchedThere();
  const lines = await linesOf(services, view(undefined));
  expect(lines.map(({ id, siteId }) => [id, siteId])).toEqual([
    [fresh.id, null],
    [fresh.id, weir.id],
  ]);
});

test('a stain made before the yeast was sent speaks for the ferment there, a later one not', async () => {
  const { view, services, weir, fresh } = await pitchedThere();
  const there = await lineOf(services, view(weir.id), fresh.id);
  expect(there.points[0]?.viabilityPercent).toBe(95);
});

test('a count of yeast that was sent teaches what such crops hold', async () => {
  const { database, write, strain, sent, weirFerment } = await pitchedThere();
  await write({
    ...{ kind: 'reading', by, happenedAt: at(50), fermentId: weirFerment.id },
    count: { ...chamber, fillings },
  });
  const history = await strainHistory(
    database.query,
    await getRecord(database.query, 'strain', strain.id),
  );
  const own = history.counts.find(({ count }) => count.lotId === sent.id);
  expect(own?.lot).toEqual({ origin: 'skim 2', unit: 'kg' });
  const [found] = history.fvCounts;
  expect(found?.pitches.map(({ lot, counts }) => [lot.origin, counts.length])).toEqual([
    ['skim 2', 1],
  ]);
});

test('the ferments of one site can be asked for on their own', async () => {
  const { database, write, strain, home, weir, ferment, weirFerment } = await pitchedThere();
  await write({ kind: 'rack', by, happenedAt: at(60), fermentId: weirFerment.id, batches: [] });
  await write({ kind: 'rack', by, happenedAt: at(60), fermentId: ferment.id, batches: [] });
  const sites = await listSites(database.query);
  const past = (id: string | undefined) =>
    rackedFermentIds(database.query, {
      ...{ strainId: strain.id, beforeMs: storyStartMs + 100 * 3_600_000, most: 9 },
      at: scopeOf(sites, id),
    });
  expect([await past(home.id), await past(weir.id)]).toEqual([[ferment.id], [weirFerment.id]]);
  expect((await past(undefined)).toSorted()).toEqual([ferment.id, weirFerment.id].toSorted());
});

test('what was kept of a head and how brews ended is read of a site alone, or of all', async () => {
  const { database, view, write, home, weir, weirFerment, strain } = await pitchedThere();
  const taken = { kind: 'crop', by, fermentId: weirFerment.id, cut: 'skim 2' } as const;
  await write({ ...taken, happenedAt: at(69), amountKg: 12 });
  const crops = async (id: string | undefined) =>
    (await pastCrops(database.query, view(id).at)).map(({ ratio }) => ratio);
  // At home a crop was weighed whose pitch was measured: 12 kg of 4 kg are known of Weir alone.
  expect([await crops(home.id), await crops(weir.id), await crops(undefined)]).toEqual([
    ...[[], [3], [3]],
  ]);
  const brews = async (id: string | undefined) => pastBrews(database.query, view(id).at);
  const one = (generation: number) => ({ strainId: strain.id, generation, brews: 1, lost: 0 });
  expect([await brews(home.id), await brews(weir.id)]).toEqual([[one(0)], [one(1)]]);
  expect(await brews(undefined)).toEqual([one(0), one(1)]);
});
