import { expect, test } from 'vitest';
import { lotStandings } from '#api/standings.ts';
import { lotIdsInStore } from '#db/reads/lots.ts';
import { listRecords } from '#db/reads/records.ts';
import { traceEvidence } from '#db/reads/trace.ts';
import { projectionDump, rebuild } from '#db/safety/upkeep.ts';
import { listSites, scopeOf } from '#db/sites/sites.ts';
import { hourMs } from '#shared/durations.ts';
import { traceOf } from '#shared/lineage/trace.ts';
import { aFerment, aSmallStory, at, storyStartMs } from '../support/brewery.ts';
import { twoSites } from './twoSites.ts';

const by = 'Ines';

test('a brewery that names no site has none, and no row names one', async () => {
  const { database } = await aSmallStory();
  expect(await listSites(database.query)).toEqual([]);
  const { rows } = await database.execute(
    'SELECT site_id FROM vessel UNION ALL SELECT site_id FROM ferment UNION ALL SELECT site_id FROM lot',
  );
  expect(rows.map((row) => row.site_id)).toEqual([null, null, null, null, null]);
});

test('the first site takes over all that was written before, the second begins empty', async () => {
  const { database, home, weir, crop, fresh, sent } = await twoSites();
  const sites = await listSites(database.query);
  expect(sites.map(({ name, isHome }) => [name, isHome])).toEqual([
    ['Quay', true],
    ['Weir', false],
  ]);
  expect(await lotIdsInStore(database.query, scopeOf(sites, home.id))).toEqual([fresh.id, crop.id]);
  expect(await lotIdsInStore(database.query, scopeOf(sites, weir.id))).toEqual([sent.id]);
});

test('each noun lists the records of one site and nothing of the other', async () => {
  const { database, home, weir, weirFv1, weirFerment, sent, fv1, fv2, ferment, pitch } =
    await twoSites();
  const sites = await listSites(database.query);
  const idsOf = async (site: string, kind: 'vessel' | 'ferment' | 'pitch' | 'transfer') => {
    const at = scopeOf(sites, site);
    const { items } = await listRecords(database.query, [kind], {
      limit: 50,
      before: undefined,
      at,
    });
    return items.map(({ id }) => id).sort();
  };
  expect(await idsOf(home.id, 'vessel')).toEqual([fv1.id, fv2.id].sort());
  expect(await idsOf(weir.id, 'vessel')).toEqual([weirFv1.id]);
  expect(await idsOf(home.id, 'ferment')).toEqual([ferment.id]);
  expect(await idsOf(weir.id, 'ferment')).toEqual([weirFerment.id]);
  expect(await idsOf(home.id, 'pitch')).toEqual([pitch.id]);
  expect(await idsOf(weir.id, 'pitch')).toEqual([]);
  expect(await idsOf(weir.id, 'transfer')).toEqual([sent.id]);
});

test('a gyle number and the name of an FV are unique within a site only', async () => {
  const { database, write, weir, weirFv1, fv2, strain } = await twoSites();
  const { rows } = await database.execute("SELECT count(*) AS n FROM ferment WHERE gyle = '412'");
  expect(rows[0]?.n).toBe(2);
  const there = { happenedAt: at(48), by, siteId: weir.id };
  await expect(write({ kind: 'vessel', ...there, name: 'FV1' })).rejects.toThrow(
    'Another fermenter already has this name',
  );
  await expect(
    write({ ...aFerment({ vesselId: fv2.id, strainId: strain.id }), happenedAt: at(48) }),
  ).rejects.toThrow('Another ferment already bears this gyle number');
  expect(weirFv1.kind).toBe('vessel');
});

test('naming the first site or none is the same', async () => {
  const { write, home } = await twoSites();
  await expect(
    write({ kind: 'vessel', happenedAt: at(48), by, name: 'FV1', siteId: home.id }),
  ).rejects.toThrow('Another fermenter already has this name');
});

test('yeast sent keeps generation and line, bears the site in its code, and is no longer left', async () => {
  const { database, sent, crop } = await twoSites();
  expect(sent.code).toBe('TN-412A-W');
  const nowMs = storyStartMs + 48 * hourMs;
  const [from, to] = await lotStandings(database, [crop.id, sent.id], nowMs);
  expect([from?.left, to?.left]).toEqual([5, 5]);
  expect([to?.generation, to?.timesPitched, to?.lineId]).toEqual([
    from?.generation,
    from?.timesPitched,
    from?.lineId,
  ]);
  // As old as the crop, not as its arrival.
  expect([to?.takenAt, to?.fromFerment?.gyle]).toEqual([from?.takenAt, '412']);
});

test('yeast sent back bears the code it had with the first site behind', async () => {
  const { write, sent, home } = await twoSites();
  const back = { kind: 'transfer', happenedAt: at(49), by, lotId: sent.id } as const;
  const { code } = await write({ ...back, toSiteId: home.id, amountKg: 1 });
  expect(code).toBe('TN-412A-Q');
});

test('what was sent is traced from either end', async () => {
  const { database, sent, crop, fresh, ferment } = await twoSites();
  const up = await traceEvidence(database.query, sent.id);
  const edge = { kind: 'transfer', parent: crop.id, child: sent.id };
  expect(traceOf(up).edges).toContainEqual(edge);
  expect(up.lots.map(({ id }) => id)).toEqual(expect.arrayContaining([fresh.id, crop.id, sent.id]));
  expect(up.ferments.map(({ id }) => id)).toEqual([ferment.id]);
  const down = await traceEvidence(database.query, fresh.id);
  expect(traceOf(down).edges).toContainEqual(edge);
});

test('a hold and counts go with the yeast, and a later release is of one place only', async () => {
  const { database, write, crop, weir } = await twoSites();
  await write({
    kind: 'stain',
    happenedAt: at(48),
    by,
    lotId: crop.id,
    stain: 'methylene blue',
    live: 95,
    dead: 5,
  });
  await write({ kind: 'hold', happenedAt: at(49), by, lotId: crop.id, why: 'Smells of vinegar' });
  const next = await write({
    ...{ kind: 'transfer', happenedAt: at(50), by, lotId: crop.id },
    ...{ toSiteId: weir.id, amountKg: 2 },
  });
  await write({ kind: 'release', happenedAt: at(51), by, lotId: crop.id, why: 'Tasted again' });
  const nowMs = storyStartMs + 52 * hourMs;
  const [here, there] = await lotStandings(database, [crop.id, next.id], nowMs);
  expect(here?.held).toBeNull();
  expect(there?.held?.why).toBe('Smells of vinegar');
  expect(there?.stain?.live).toBe(95);
  expect(next.code).toBe('TN-412A-W2');
});

test('a hold of a family reaches what was sent', async () => {
  const { database, write, fresh, sent } = await twoSites();
  await write({ kind: 'familyHold', happenedAt: at(50), by, lotId: fresh.id, why: 'Wild yeast' });
  const [there] = await lotStandings(database, [sent.id], storyStartMs + 51 * hourMs);
  expect(there?.held?.why).toBe('Wild yeast');
});

test('records of two sites do not meet but by sending', async () => {
  const { write, weirFerment, crop, sent, fv1, weir, strain } = await twoSites();
  const now = { happenedAt: at(50), by };
  await expect(
    write({ kind: 'pitch', ...now, fermentId: weirFerment.id, lotId: crop.id, amountKg: 1 }),
  ).rejects.toThrow('Lot TN-412A is at Quay: send it to Weir first');
  const parents = [crop, sent].map(({ id }) => ({ lotId: id, amountKg: 1 }));
  await expect(write({ kind: 'blend', ...now, parents, amountKg: 2 })).rejects.toThrow(
    'Lots of two sites are not mixed',
  );
  await expect(
    write({ kind: 'transfer', ...now, lotId: sent.id, toSiteId: weir.id, amountKg: 1 }),
  ).rejects.toThrow('is at this site already');
  const brew = { beer: 'Weir Pale', volumeL: 900, originalGravitySg: 1.04, strainId: strain.id };
  await expect(
    write({
      ...{ kind: 'plannedBrew', ...now, onDay: '2026-03-10', ...brew },
      ...{ vesselId: fv1.id, siteId: weir.id },
    }),
  ).rejects.toThrow('FV1 stands at another site');
  await expect(write({ kind: 'vessel', ...now, name: 'FV9', siteId: strain.id })).rejects.toThrow(
    'There is no such site in the log',
  );
});

test('the first site is not struck out while another stands', async () => {
  const { write, home } = await twoSites();
  await expect(
    write({ kind: 'void', happenedAt: at(50), by, supersedes: home.id, reason: 'By mistake' }),
  ).rejects.toThrow('Other entries rest on this one');
});

test('a renamed first site stays the first', async () => {
  const { database, write, home } = await twoSites();
  const renamed = { kind: 'site', happenedAt: at(50), by, name: 'Old Quay', code: 'OQ' } as const;
  await write({ ...renamed, supersedes: home.id, reason: 'New name' });
  const [first] = await listSites(database.query);
  expect([first?.id, first?.name, first?.isHome]).toEqual([home.id, 'Old Quay', true]);
});

test('rebuilding a log of two sites gives identical tables', async () => {
  const { database, write, home } = await twoSites();
  const renamed = { kind: 'site', happenedAt: at(50), by, name: 'Old Quay', code: 'OQ' } as const;
  await write({ ...renamed, supersedes: home.id, reason: 'New name' });
  const before = await projectionDump(database);
  await rebuild(database);
  expect(before.site).toHaveLength(2);
  expect(await projectionDump(database)).toEqual(before);
});
