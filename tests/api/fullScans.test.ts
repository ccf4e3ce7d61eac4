import type { InStatement } from '@libsql/client';
import { expect, test } from 'vitest';
import { createApp } from '#api/app.ts';
import type { Database } from '#db/database.ts';
import { fillDemo } from '#db/demo/fillDemo.ts';
import { recordedStatements } from '../bench/recordedStatements.ts';
import { theirApi } from '../sites/twoSites.ts';
import { freshDatabase, nextId } from '../support/brewery.ts';
import { aSession } from '../support/signedIn.ts';

/** Tables that grow for as long as there is brewing; all others stay as small as the brewery. */
const growing = [
  ...['journal', 'lot', 'lot_parent', 'ferment', 'pitch', 'reading', 'chill', 'rack'],
  ...['store_reading', 'cell_count', 'stain', 'micro_check', 'micro_result', 'treatment'],
  ...['discard', 'hold', 'release', 'planned_brew', 'allotment', 'family_hold_lot'],
];
/** Indexes that hold only what is there now, or the few of a kind. */
const ofFew = ['lot_in_store', 'ferment_running', 'lot_fresh', 'journal_family'];

const statements = recordedStatements();
const nowMs = Date.UTC(2026, 5, 10, 9, 20);

test('no screen, list or entry reads a table that grows from end to end', async () => {
  const database = await freshDatabase();
  await fillDemo(database, nowMs);
  const { cookie } = await aSession(database, { userName: 'lou', roles: ['head'], atMs: nowMs });
  const newest = async (sql: string) => String((await database.execute(sql)).rows[0]?.[0]);
  const lot = await newest('SELECT id FROM lot WHERE left_l > 2 ORDER BY seq DESC LIMIT 1');
  const ferment = await newest('SELECT id FROM ferment WHERE racked_ms IS NULL AND pitched_ms > 0');
  const line = await newest('SELECT line_id FROM lot ORDER BY seq DESC LIMIT 1');
  const screens = [
    ...['today', 'setup', 'lots/in-store', `lots/${lot}/standing`, 'ferments/current'],
    ...[`ferments/${ferment}/standing`, `ferments/${ferment}/history`, 'lines', `lines/${line}`],
    ...['plan', `trace?of=${lot}`, 'entries?limit=20', `records/${lot}/history`],
    ...['lots?limit=20', 'ferments?limit=20'],
  ].map((path) => ({ path: `/api/${path}`, method: 'GET' }));
  const common = { happenedAt: new Date(nowMs).toISOString(), by: 'Ines' };
  const entries = [
    { kind: 'reading', fermentId: ferment, gravitySg: 1.02 },
    { kind: 'crop', fermentId: ferment, cut: 'skim 2', gravitySg: 1.014, amountL: 20 },
    { kind: 'stain', lotId: lot, stain: 'methylene blue', live: 190, dead: 10 },
    { kind: 'pitch', fermentId: ferment, lotId: lot, amountL: 1, override: 'More was wanted' },
    { kind: 'hold', lotId: lot, why: 'It smells' },
  ].map((entry) => ({
    path: `/api/entries/${nextId()}`,
    method: 'PUT',
    body: JSON.stringify({ ...common, ...entry }),
  }));
  const app = createApp({ database, now: () => nowMs });
  const headers = { cookie, origin: 'http://localhost', 'content-type': 'application/json' };
  for (const { path, ...asked } of [...screens, ...entries]) {
    const sent = await statements.during(async () => {
      const { status } = await app.request(path, { headers, ...asked });
      expect([path, status]).toEqual([path, asked.method === 'PUT' ? 201 : 200]);
    });
    expect(sent.length).toBeGreaterThan(1);
    for (const { statement } of sent)
      expect([path, await scansOf(database, statement)]).toEqual([path, []]);
  }
});

test('nor does a screen of one site', async () => {
  const { database, send, signIn, weir } = await theirApi();
  const head = await signIn('lou', ['head'], []);
  for (const path of ['today', 'setup', 'lots/in-store', 'ferments/current', 'lines', 'plan']) {
    const sent = await statements.during(() =>
      send('GET', `/api/${path}?site=${weir.id}`, head).then(({ status }) =>
        expect(status).toBe(200),
      ),
    );
    for (const { statement } of sent)
      expect([path, await scansOf(database, statement)]).toEqual([path, []]);
  }
});

test('scansOf(database, statement) names what is read from end to end', async () => {
  const database = await freshDatabase();
  expect(await scansOf(database, 'SELECT avg(temp_c) FROM reading AS row')).toEqual(['reading']);
  const limited = (sql: string) => ({ sql: `${sql} LIMIT ?`, args: [9] });
  expect(await scansOf(database, limited('SELECT * FROM reading ORDER BY ph'))).toEqual([
    'reading',
  ]);
  expect(await scansOf(database, limited('SELECT * FROM reading ORDER BY seq'))).toEqual([]);
  expect(await scansOf(database, "SELECT * FROM reading WHERE id = 'x'")).toEqual([]);
});

/** The growing tables that a statement reads from end to end, by the plan of the engine. */
async function scansOf(database: Database, statement: InStatement): Promise<string[]> {
  const { sql, args = [] } = typeof statement === 'string' ? { sql: statement } : statement;
  const { rows } = await database.execute({ sql: `EXPLAIN QUERY PLAN ${sql}`, args });
  const tables = new Map(
    [...sql.matchAll(/\b(?:FROM|JOIN)\s+"?(\w+)"?(?:\s+AS\s+(\w+))?/gi)].map(
      ([, table = '', alias = table]) => [alias, table],
    ),
  );
  const plan = rows.map((row) => String(row[3]));
  // In the order of an index, a limit ends it early.
  const isShort = /\bLIMIT \?\s*$/i.test(sql) && !plan.some((step) => /ORDER BY/.test(step));
  return plan.flatMap((step) => {
    const [, name = '', index = ''] =
      /^SCAN (\w+)(?: USING (?:COVERING )?INDEX (\w+))?/.exec(step) ?? [];
    const table = tables.get(name) ?? '';
    return growing.includes(table) && !ofFew.includes(index) && !isShort ? [table] : [];
  });
}
