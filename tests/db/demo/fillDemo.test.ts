import { beforeAll, expect, test } from 'vitest';
import { oneLine } from '#api/standings.ts';
import { type Database, openDatabase } from '#db/database.ts';
import { demoEntries } from '#db/demo/demoEntries.ts';
import { fillDemo } from '#db/demo/fillDemo.ts';
import { appendAll } from '#db/journal/bulk.ts';
import { verifyChain } from '#db/journal/chain.ts';
import { record } from '#db/journal/journal.ts';
import { migrate } from '#db/migrate.ts';
import { traceEvidence } from '#db/reads/trace.ts';
import { projectionDump, rebuild } from '#db/safety/upkeep.ts';
import { traceOf } from '#shared/lineage/trace.ts';

const nowMs = Date.UTC(2026, 5, 10, 9, 20);
const longMs = 120_000;
let database: Database;

async function emptyDatabase(): Promise<Database> {
  const opened = await openDatabase(':memory:');
  await migrate(opened, nowMs);
  return opened;
}

beforeAll(async () => {
  database = await emptyDatabase();
  await fillDemo(database, nowMs);
}, longMs);

async function select(sql: string): Promise<Record<string, unknown>[]> {
  const { rows } = await database.execute(sql);
  return rows.map((row) => ({ ...row }));
}

test('fillDemo(database, now) writes a sound chain', async () => {
  expect(await verifyChain(database)).toMatchObject({
    sound: true,
    entries: demoEntries(nowMs).length,
  });
});

test('fillDemo(database, now) refuses a log that holds anything', async () => {
  await expect(fillDemo(database, nowMs)).rejects.toThrow('The log holds entries already');
});

test(
  'rebuild(database) gives the same tables row by row',
  async () => {
    const before = await projectionDump(database);
    await rebuild(database);
    expect(await projectionDump(database)).toEqual(before);
    expect(before.ferment).toHaveLength(235);
  },
  longMs,
);

test(
  'the last entries pass every rule of the usual way to write, without a warning',
  async () => {
    const entries = demoEntries(nowMs);
    const source = { actor: 'demo', via: 'system' } as const;
    const other = await emptyDatabase();
    await appendAll(other, entries.slice(0, -400), source);
    const warnings: string[] = [];
    for (const { id, entry, receivedMs } of entries.slice(-400)) {
      const { recorded } = await record(other, id, entry, { ...source, receivedMs });
      warnings.push(...recorded.warnings);
    }
    expect(warnings).toEqual([]);
    expect(await verifyChain(other)).toMatchObject({ sound: true, entries: entries.length });
  },
  longMs,
);

test('no lot gives more than it holds', async () => {
  expect(await select('SELECT code FROM lot WHERE left_l < 0 OR left_kg < 0')).toEqual([]);
});

test('a fermenter holds one gyle at a time', async () => {
  const overlaps = await select(`
    SELECT earlier.gyle, later.gyle FROM ferment AS earlier JOIN ferment AS later
      ON later.vessel_id = earlier.vessel_id AND later.happened_ms > earlier.happened_ms
    WHERE earlier.racked_ms IS NULL OR earlier.racked_ms >= later.happened_ms`);
  expect(overlaps).toEqual([]);
});

test('nothing is taken from a lot before it is there, or in the other unit', async () => {
  const early = await select(`
    SELECT lot.code FROM lot JOIN pitch ON pitch.lot_id = lot.id
    WHERE pitch.happened_ms < lot.happened_ms
      OR (pitch.amount_l IS NULL) <> (lot.amount_l IS NULL)
    UNION ALL SELECT lot.code FROM lot JOIN discard ON discard.lot_id = lot.id
    WHERE discard.happened_ms < lot.happened_ms
      OR (discard.amount_l IS NULL) <> (lot.amount_l IS NULL)`);
  expect(early).toEqual([]);
});

test('every line stays within the generations its strain allows', async () => {
  const lines = await select(`
    SELECT strain.code, max(lot.generation) AS oldest
    FROM pitch JOIN lot ON lot.id = pitch.lot_id JOIN strain ON strain.id = lot.strain_id
    GROUP BY strain.code ORDER BY strain.code`);
  expect(lines).toEqual([
    { code: 'FM', oldest: 11 },
    { code: 'TN', oldest: 10 },
  ]);
});

async function lineOf(code: string) {
  const [row] = await select(`SELECT id FROM lot WHERE code = '${code}'`);
  return oneLine(database, String(row?.id));
}

const mean = (values: readonly (number | null)[]) => {
  const known = values.filter((value) => value !== null);
  return known.reduce((sum, value) => sum + value, 0) / known.length;
};

test('the good line is steady for nine generations, told so, and replaced in time', async () => {
  const { points, state, highestGeneration, measures, reasons } = await lineOf('TN-F4');
  const early = points.filter(({ generation }) => generation >= 2 && generation <= 5);
  const late = points.filter(({ generation }) => generation >= 6);
  const half = (some: typeof points) => mean(some.map((point) => point.halfTimeHours));
  expect([state, highestGeneration]).toEqual(['ended', 9]);
  expect(Math.abs(half(late) / half(early) - 1)).toBeLessThan(0.05);
  expect(measures.map((measure) => measure.state)).toEqual(Array(6).fill('steady'));
  expect(reasons.map(({ rule, verdict }) => [rule, verdict])).toEqual([['no drift', 'steady']]);
});

test('the drifting line slows and weakens from its sixth generation on, and is told so', async () => {
  const { points, state, measures, reasons } = await lineOf('TN-F5');
  const settled = points.filter(({ generation }) => generation >= 2 && generation <= 5);
  const last = points.filter(({ generation }) => generation >= 9);
  const half = (some: typeof points) => mean(some.map((point) => point.halfTimeHours));
  const alive = (some: typeof points) => mean(some.map((point) => point.viabilityPercent));
  expect(state).toBe('ended');
  expect(half(last) / half(settled)).toBeGreaterThan(1.25);
  expect(alive(settled) - alive(last)).toBeGreaterThan(2);
  const declining = measures.filter(({ isDecline }) => isDecline);
  expect(declining.map(({ key, since }) => [key, since])).toEqual([
    ['viabilityPercent', 6],
    ['halfTimeHours', 6],
    ['apparentAttenuationPercent', 6],
    ['petitePercent', 6],
  ]);
  expect(reasons[0]).toMatchObject({ rule: 'tired', verdict: 'due', weight: 'condition' });
});

test('no line is called tired but the one that is', async () => {
  const all = await select("SELECT code FROM lot WHERE kind = 'freshCulture' ORDER BY code");
  expect(all).toHaveLength(16);
  const tired: string[] = [];
  for (const { code } of all) {
    const { reasons } = await lineOf(String(code));
    if (reasons.some(({ rule }) => rule === 'tired')) tired.push(String(code));
  }
  expect(tired).toEqual(['TN-F5']);
});

test('fresh yeast is slower than the settled generations after it', async () => {
  const { points } = await lineOf('TN-F4');
  const half = (generations: readonly number[]) =>
    mean(
      points
        .filter(({ generation }) => generations.includes(generation))
        .map((point) => point.halfTimeHours),
    );
  expect(half([0, 1]) / half([2, 3, 4, 5])).toBeGreaterThan(1.05);
});

test('the wild yeast is traced from its plate, contained, and let go', async () => {
  const [check] = await select(`
    SELECT micro_check.id FROM micro_check
      JOIN micro_result ON micro_result.check_id = micro_check.id
    WHERE outcome = 'found' ORDER BY micro_check.happened_ms`);
  const trace = traceOf(await traceEvidence(database.query, String(check?.id)));
  expect(trace.of.kind).toBe('plate');
  expect(trace.holds).toHaveLength(1);
  const [hold] = trace.holds;
  expect(hold).toMatchObject({ lotId: trace.of.nodeId, lots: 2 });
  expect(hold?.released?.why).toContain('the rest went to drain');

  const below = trace.nodes.filter(({ side }) => side === 'downstream');
  const marked = below.filter(({ marks }) => marks.some(({ what }) => what === 'look at it'));
  const [sister, lost] = marked.filter(({ kind }) => kind === 'ferment');
  expect(hold?.ferments).toBe(2);
  expect(below.find(({ through }) => through === sister?.id)?.kind).toBe('lot');
  const casks = below.filter(({ kind }) => kind === 'casks');
  expect(casks.find(({ through }) => through === lost?.id)?.batches).toEqual([]);
  expect(hold?.why).toContain(
    casks.find(({ through }) => through === sister?.id)?.batches.join(', '),
  );

  const fates = await select(`
    SELECT micro_result.outcome, release.id IS NOT NULL AS released,
      (SELECT min(pitch.happened_ms) > release.happened_ms FROM pitch
        WHERE pitch.lot_id = lot.id) AS pitched_after
    FROM family_hold_lot AS held JOIN lot ON lot.id = held.lot_id
      LEFT JOIN release ON release.lot_id = lot.id
      JOIN micro_check ON micro_check.lot_id = lot.id
      JOIN micro_result ON micro_result.check_id = micro_check.id
    ORDER BY lot.happened_ms DESC`);
  expect(fates).toEqual([
    { outcome: 'discard', released: 0, pitched_after: null },
    { outcome: 'clear', released: 1, pitched_after: 1 },
  ]);
  const drained = await select(
    "SELECT id FROM rack WHERE batches = '[]' AND ferment_id IN (SELECT ferment_id FROM lot)",
  );
  expect(drained).toHaveLength(1);
});
