import fc from 'fast-check';
import { expect, test } from 'vitest';
import { traceEvidence } from '#db/reads/trace.ts';
import { rebuild } from '#db/safety/upkeep.ts';
import { mattersStill } from '#shared/lineage/mattersStill.ts';
import { descendantsOf, type Edge } from '#shared/lineage/reach.ts';
import { traceOf } from '#shared/lineage/trace.ts';
import type { TraceNode } from '#shared/lineage/traceNodes.ts';
import { aFerment, aSmallStory, at } from '#tests/support/brewery.ts';
import { aFamily, allWays, deeds } from '#tests/support/family.ts';

const by = 'Ines';

test('a trace reaches what going all ways reaches, up and down, and nothing else', async () => {
  await fc.assert(
    fc.asyncProperty(deeds, fc.nat({ max: 1000 }), async (done, index) => {
      const { database, ids, edges } = await aFamily(done);
      const start = ids[index % ids.length] ?? '';
      const { nodes, ...trace } = traceOf(await traceEvidence(database.query, start));
      const on = (side: string) => nodes.filter((node) => node.side === side).map(({ id }) => id);
      const above = allWays(start, edges, true);
      const below = allWays(start, edges);
      above.delete(start);
      below.delete(start);
      expect(new Set(on('upstream'))).toEqual(above);
      expect(new Set(on('downstream'))).toEqual(below);
      expect(on('start')).toEqual([start]);
      const walked = edges.filter(
        ({ parent, child }) =>
          above.has(child) || child === start || below.has(parent) || parent === start,
      );
      const asText = ({ parent, child }: { parent: string; child: string }) => `${parent} ${child}`;
      expect(trace.edges.map(asText).toSorted()).toEqual(walked.map(asText).toSorted());
      await database.close();
    }),
    { numRuns: 25 },
  );
});

test('every record is told by a shortest way, through a neighbour one step nearer', async () => {
  await fc.assert(
    fc.asyncProperty(deeds, fc.nat({ max: 1000 }), async (done, index) => {
      const { database, ids, edges } = await aFamily(done);
      const start = ids[index % ids.length] ?? '';
      const { nodes } = traceOf(await traceEvidence(database.query, start));
      const turned = edges.map(({ parent, child }) => ({ parent: child, child: parent }));
      const ways = { upstream: turned, downstream: edges };
      for (const { id, side, steps, through } of nodes) {
        if (side === 'start') continue;
        const reached = descendantsOf(start, ways[side]);
        expect(steps).toBe(reached.get(id)?.steps);
        expect(reached.get(through ?? '')?.steps).toBe(steps - 1);
        expect(ways[side]).toContainEqual({ parent: through, child: id });
      }
      await database.close();
    }),
    { numRuns: 25 },
  );
});

test('the parts of a family tell together what the whole of it tells, each with its counts', async () => {
  await fc.assert(
    fc.asyncProperty(
      deeds,
      fc.nat(1000),
      fc.integer({ min: 1, max: 4 }),
      async (done, of, limit) => {
        const { database, ids } = await aFamily(done);
        const start = ids[of % ids.length] ?? '';
        const whole = traceOf(await traceEvidence(database.query, start));
        expect([whole.isWhole, whole.next]).toEqual([true, null]);
        const told = new Map<string, TraceNode>();
        for (let after: number | null = 0; after !== null; ) {
          const asked = { after, limit, sinceMs: Date.parse(at(0)) };
          const part = traceOf(await traceEvidence(database.query, start, asked));
          expect(part.counts).toEqual(whole.counts);
          expect(part.isWhole).toBe(part.nodes.length === whole.nodes.length);
          const here = new Set(part.nodes.map(({ id }) => id));
          const isHere = ({ parent, child }: Edge) => here.has(parent) && here.has(child);
          expect(part.edges).toEqual(whole.edges.filter(isHere));
          const present = whole.nodes.filter((node) => mattersStill(node, Date.parse(at(1))));
          expect(present.filter(({ id }) => !here.has(id))).toEqual([]);
          for (const node of part.nodes) told.set(node.id, node);
          after = part.next;
        }
        expect([...told.values()].toSorted(byId)).toEqual(whole.nodes.toSorted(byId));
        await database.close();
      },
    ),
    { numRuns: 25 },
  );
});

const byId = (a: TraceNode, b: TraceNode) => (a.id < b.id ? -1 : 1);

test('of a large family the plate that grew is told however far away, and how it is reached', async () => {
  const { database, write, fresh, ferment, crop } = await aSmallStory();
  const check = { kind: 'microCheck', happenedAt: at(45), by, lotId: crop.id } as const;
  const plate = await write({
    ...{ ...check, medium: 'LWYM', looksFor: 'wild yeast', cellsPlated: 3e6, dueAt: at(140) },
  });
  await write({
    ...{ kind: 'microResult', happenedAt: at(140), by, checkId: plate.id },
    ...{ outcome: 'found', colonies: 46 },
  });
  await write({
    kind: 'discard',
    happenedAt: at(141),
    by,
    lotId: crop.id,
    amountKg: 12,
    why: 'Wild',
  });
  const asked = { after: 2, limit: 1, sinceMs: Date.parse(at(200)) };
  const { nodes } = traceOf(await traceEvidence(database.query, fresh.id, asked));
  expect(nodes.find(({ id }) => id === crop.id)).toMatchObject({
    ...{ status: 'grew', through: ferment.id, steps: 2 },
  });
  expect(nodes.map(({ id }) => id)).toContain(ferment.id);
});

test('a plate, its result and a racking are traced as the lot and the casks they belong to', async () => {
  const { database, write, crop, ferment } = await aSmallStory();
  const plate = await write({
    kind: 'microCheck',
    happenedAt: at(45),
    by,
    lotId: crop.id,
    medium: 'LWYM',
    looksFor: 'wild yeast',
    cellsPlated: 3e6,
    dueAt: at(140),
  });
  const result = await write({
    ...{ kind: 'microResult', happenedAt: at(140), by, checkId: plate.id },
    ...{ outcome: 'found', colonies: 46 },
  });
  const rack = await write({
    ...{ kind: 'rack', happenedAt: at(141), by, fermentId: ferment.id },
    batches: ['412/1', '412/2'],
  });
  for (const id of [plate.id, result.id]) {
    const trace = traceOf(await traceEvidence(database.query, id));
    expect(trace.of).toEqual({
      ...{ id, nodeId: crop.id, kind: 'plate', label: 'LWYM plate of TN-412A' },
    });
    const [start] = trace.nodes.filter(({ side }) => side === 'start');
    expect(start?.status).toBe('held');
    // 46 of 3 million is 15.33 per million; Garwood's limits of 46 are 33.68 and 61.36.
    expect(start?.marks.map(({ what, text }) => `${what} ${text}`)).toContain(
      'grew LWYM: 46 colonies, 15.3 per million (11.2 to 20.5)',
    );
  }
  const casks = traceOf(await traceEvidence(database.query, rack.id));
  expect(casks.of.label).toBe('2 batches of 412');
  expect(casks.nodes.map(({ label, side }) => [label, side])).toEqual([
    ['TN-F1', 'upstream'],
    ['412', 'upstream'],
    ['2 batches of 412', 'start'],
  ]);
});

test('a pitch corrected to another lot moves the trace, and a rebuild changes nothing', async () => {
  const story = await aSmallStory();
  const { database, write, strain, fresh, ferment, pitch, crop } = story;
  const other = await write({
    ...{ kind: 'freshCulture', happenedAt: at(0), by, strainId: strain.id, origin: 'bought' },
    ...{ generation: 3, amountL: 20 },
  });
  const above = async () =>
    traceOf(await traceEvidence(database.query, crop.id))
      .nodes.filter(({ side }) => side === 'upstream')
      .map(({ id }) => id);
  expect(new Set(await above())).toEqual(new Set([fresh.id, ferment.id]));
  await write({
    ...{ kind: 'pitch', happenedAt: at(2), by, fermentId: ferment.id, lotId: other.id },
    ...{ amountL: 11, supersedes: pitch.id, reason: 'The other can' },
  });
  expect(new Set(await above())).toEqual(new Set([other.id, ferment.id]));
  const start = async () =>
    traceOf(await traceEvidence(database.query, crop.id)).nodes.find(
      ({ side }) => side === 'start',
    );
  expect((await start())?.generation).toBe(4);
  await rebuild(database);
  expect(new Set(await above())).toEqual(new Set([other.id, ferment.id]));
});

test('yeast of another source that joins below is named, not traced', async () => {
  const { database, write, strain, crop, fv2 } = await aSmallStory();
  const other = await write({
    ...{ kind: 'freshCulture', happenedAt: at(45), by, strainId: strain.id, origin: 'bought' },
    ...{ generation: 0, amountL: 20 },
  });
  const gyle = aFerment({ vesselId: fv2.id, strainId: strain.id, gyle: '413' });
  const second = await write({ ...gyle, happenedAt: at(46) });
  const into = { kind: 'pitch', happenedAt: at(47), by, fermentId: second.id } as const;
  await write({ ...into, lotId: crop.id, amountKg: 4 });
  await write({ ...into, lotId: other.id, amountL: 4 });
  const trace = traceOf(await traceEvidence(database.query, crop.id));
  expect(trace.nodes.map(({ id }) => id)).not.toContain(other.id);
  expect(trace.nodes.find(({ id }) => id === second.id)?.alsoFrom).toEqual([other.code]);
});

test('the database refuses yeast that descends from itself, through a pitch, a blend or a crop', async () => {
  const { database, write, crop, fresh, ferment, fv2, strain } = await aSmallStory();
  const gyle = aFerment({ vesselId: fv2.id, strainId: strain.id, gyle: '413' });
  const second = await write({ ...gyle, happenedAt: at(46) });
  await write({
    ...{ kind: 'pitch', happenedAt: at(47), by, fermentId: second.id, lotId: crop.id },
    ...{ amountKg: 4 },
  });
  const below = await write({
    ...{ kind: 'crop', happenedAt: at(90), by, fermentId: second.id, cut: 'skim 1' },
    ...{ amountKg: 8 },
  });
  const pitched = `UPDATE pitch SET lot_id = '${below.id}', amount_l = NULL, amount_kg = 1
    WHERE ferment_id = '${ferment.id}'`;
  const mixed = `INSERT INTO lot_parent (lot_id, parent_id, amount_kg)
    VALUES ('${fresh.id}', '${below.id}', 1)`;
  const cropped = `UPDATE lot SET ferment_id = '${second.id}' WHERE id = '${crop.id}'`;
  for (const statement of [pitched, mixed, cropped])
    await expect(database.write([statement]), statement).rejects.toThrow(
      'yeast cannot descend from itself',
    );
});
