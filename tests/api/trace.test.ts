import type { InferResponseType } from 'hono/client';
import { expect, test } from 'vitest';
import type { Problem } from '#api/problem.ts';
import type { Trace } from '#shared/lineage/trace.ts';
import type { LotStanding } from '#shared/views/lots.ts';
import { aStrain, at, nextId } from '#tests/support/brewery.ts';
import { anApi, type Client } from '#tests/support/server.ts';

type Found = InferResponseType<Client['trace']['search']['$get'], 200>;

/** Fresh culture into gyle 412, its crop into gyle 413, whose crop is in store. */
async function aLine() {
  const api = await anApi();
  const { write } = api;
  const by = 'Ines';
  const strain = await write(0, aStrain());
  const wort = { strainId: strain.id, volumeL: 1600, originalGravitySg: 1.04 };
  const gyle = async (hours: number, number: string, beer: string) => {
    const vessel = await write(hours, { kind: 'vessel', name: `FV ${number}` });
    return write(hours, { kind: 'ferment', gyle: number, beer, vesselId: vessel.id, ...wort });
  };
  const fresh = await write(0, {
    ...{ kind: 'freshCulture', strainId: strain.id, origin: 'bought', generation: 0, amountL: 20 },
  });
  const first = await gyle(1, '412', '=HYPERLINK("http://x.test")');
  const pitch = { kind: 'pitch', fermentId: first.id, lotId: fresh.id, amountL: 11 };
  const pitched = await write(2, pitch);
  const crop = await write(44, { kind: 'crop', fermentId: first.id, cut: 'skim 2', amountL: 10 });
  const second = await gyle(45, '413', 'Headland Bitter');
  await write(46, { kind: 'pitch', fermentId: second.id, lotId: crop.id, amountL: 4 });
  const below = await write(90, { kind: 'crop', fermentId: second.id, cut: 'skim 1', amountL: 8 });
  await write(91, { kind: 'rack', fermentId: second.id, batches: ['413/1', '413/2'] });
  return { ...api, by, fresh, first, pitch, pitched, crop, second, below };
}

test('GET /api/trace tells both ways from the middle of a line', async () => {
  const { get, crop } = await aLine();
  const response = await get(`/api/trace?of=${crop.id}`);
  expect(response.status).toBe(200);
  const trace: Trace = await response.json();
  const told = trace.nodes.map(({ label, side, steps, generation, state }) =>
    [label, side, steps, generation, state].join(' '),
  );
  expect(told).toEqual([
    'TN-F1 upstream 2 0 in store',
    '412 upstream 1 0 fermenting',
    'TN-412A start 0 1 in store',
    '413 downstream 1 1 racked',
    'TN-413A downstream 2 2 in store',
    '2 batches of 413 downstream 2 1 in cask',
  ]);
});

test('GET /api/trace.csv runs no formula and has a line for each cask batch', async () => {
  const { get, crop } = await aLine();
  const response = await get(`/api/trace.csv?of=${crop.id}`);
  expect(response.headers.get('content-type')).toBe('text/csv; charset=utf-8');
  expect(response.headers.get('x-content-type-options')).toBe('nosniff');
  const text = new TextDecoder('utf-8', { ignoreBOM: true }).decode(await response.arrayBuffer());
  expect(text.startsWith('\uFEFF"side","steps"')).toBe(true);
  const lines = text.split('\r\n');
  expect(lines).toHaveLength(1 + 7 + 1);
  expect(lines.filter((line) => line.includes('"413/'))).toHaveLength(2);
  expect(text).toContain(`"'=HYPERLINK(""http://x.test"") in FV 412"`);
});

test('GET /api/trace refuses what is no id and knows no other record', async () => {
  const { get } = await aLine();
  expect((await get('/api/trace?of=412')).status).toBe(422);
  expect((await get('/api/trace')).status).toBe(422);
  expect((await get(`/api/trace?of=${nextId()}`)).status).toBe(404);
});

test('GET /api/trace/search finds by code, gyle and cask batch, and takes % for itself', async () => {
  const { get } = await aLine();
  const labels = async (q: string) => {
    const { items }: Found = await (
      await get(`/api/trace/search?q=${encodeURIComponent(q)}`)
    ).json();
    return items.map(({ label }) => label);
  };
  expect(await labels('413')).toEqual(['413', '413/1', '413/2', 'TN-413A']);
  expect(await labels('tn-412a')).toEqual(['TN-412A']);
  expect(await labels('%')).toEqual([]);
});

test('yeast that would descend from itself is refused', async () => {
  const { put, by, first, pitched, below } = await aLine();
  const response = await put({
    ...{ kind: 'pitch', happenedAt: at(91), by, fermentId: first.id, lotId: below.id },
    ...{ amountL: 1, supersedes: pitched.id, reason: 'A slip' },
  });
  // Its crop was taken before: time alone refuses it here, and the database refuses the circle.
  expect(response.status).toBe(422);
  expect(await response.json()).toMatchObject({ errors: [{ path: 'happenedAt' }] });
});

test('a correction of what was corrected meanwhile is answered with what stands now', async () => {
  const { put, write, by, pitch, pitched } = await aLine();
  const said = { ...pitch, amountL: 12, supersedes: pitched.id, reason: 'Misread' };
  const second = await write(92, { ...said, happenedAt: at(2) });
  const late = await put({ ...said, happenedAt: at(2), by: 'Tom', amountL: 13 });
  expect(late.status).toBe(409);
  const problem: Problem = await late.json();
  expect(problem.detail).toBe('This entry was already corrected by Ines: see how it stands now.');
  expect(problem.current).toMatchObject({
    ...{ id: second.id, by, reason: 'Misread', body: { kind: 'pitch', amountL: 12 } },
  });
});

test('a plate struck out lets the lot go, and its verdict and trace with it', async () => {
  const { get, write, below } = await aLine();
  const plate = await write(93, {
    ...{ kind: 'microCheck', lotId: below.id, medium: 'LWYM', looksFor: 'wild yeast' },
    ...{ cellsPlated: 1e6, dueAt: at(94) },
  });
  const read = { kind: 'microResult', checkId: plate.id, outcome: 'found' };
  const result = await write(94, { ...read, colonies: 20 });
  const seen = async () => {
    const lot: LotStanding = await (await get(`/api/lots/${below.id}/standing`)).json();
    const trace: Trace = await (await get(`/api/trace?of=${below.id}`)).json();
    const start = trace.nodes.find(({ side }) => side === 'start');
    return [lot.held !== null, lot.verdict.verdict, start?.status];
  };
  expect(await seen()).toEqual([true, 'hold', 'held']);
  const other = await write(95, {
    ...{ ...read, colonies: 200, supersedes: result.id, reason: 'Missed a zero' },
  });
  // Richards 1968: thrown away at 100 wild yeasts per million.
  expect(await seen()).toEqual([true, 'past it', 'held']);
  await write(96, { kind: 'void', supersedes: other.id, reason: 'Another plate' });
  expect(await seen()).toEqual([false, 'test first', 'plain']);
});

test('sick yeast is acid washed only for a reason', async () => {
  const { get, put, write, setHours, by, below } = await aLine();
  await write(93, {
    ...{ kind: 'stain', lotId: below.id, stain: 'methylene blue', live: 340, dead: 60 },
  });
  const wash = {
    ...{ kind: 'treatment', happenedAt: at(94), by, lotId: below.id, treatment: 'acid wash' },
    ...{ agent: 'Phosphoric acid', ph: 2.2, tempC: 3, minutes: 60 },
  };
  setHours(94);
  const refused = await put(wash);
  expect(refused.status).toBe(422);
  expect(await refused.json()).toMatchObject({
    errors: [{ path: 'override', message: expect.stringContaining('85.0 % of it was alive') }],
  });
  expect((await put({ ...wash, override: 'The only yeast there is' })).status).toBe(201);
  setHours(96);
  const lot: LotStanding = await (await get(`/api/lots/${below.id}/standing`)).json();
  expect(lot.wash).toMatchObject({ hoursSince: 2, findings: [], override: expect.any(String) });
  // Simpson & Hammond 1989: washed yeast is pitched at once, not stored.
  expect(lot.verdict.reasons.map(({ text }) => text)).toContain(
    'Washed yeast was kept: stain it before use',
  );
});
