import { parse } from 'csv-parse/sync';
import { expect, test } from 'vitest';
import { aFerment, aStrain, at } from '#tests/support/brewery.ts';
import { anApi } from '#tests/support/server.ts';

const by = 'Ines';

/** A crop of 85 % alive, some of it mixed off, then washed and put on hold, and mixed and pitched. */
async function aStoryOfReasons() {
  const api = await anApi();
  api.setHours(500);
  const put = async (entry: Record<string, unknown>) => {
    const answer = await api.put({ by, ...entry });
    const { id, errors }: { id: string; errors?: unknown } = await answer.json();
    expect({ status: answer.status, errors }).toEqual({ status: 201, errors: undefined });
    return id;
  };
  const strainId = await put(aStrain());
  const vesselId = await put({ kind: 'vessel', happenedAt: at(0), name: 'FV1' });
  const freshCulture = { kind: 'freshCulture', strainId, origin: 'bought', generation: 0 };
  const fresh = await put({ ...freshCulture, happenedAt: at(0), amountKg: 60 });
  const first = await put(aFerment({ vesselId, strainId }));
  await put({ kind: 'pitch', happenedAt: at(2), fermentId: first, lotId: fresh, amountKg: 5 });
  const crop = await put({
    ...{ kind: 'crop', happenedAt: at(44), fermentId: first, cut: 'skim 2', amountKg: 30 },
  });
  await put({ kind: 'rack', happenedAt: at(45), fermentId: first, batches: [] });
  const parents = [
    { lotId: crop, amountKg: 5 },
    { lotId: fresh, amountKg: 5 },
  ];
  const before = await put({ kind: 'blend', happenedAt: at(46), parents, amountKg: 10 });
  const stain = { kind: 'stain', stain: 'methylene blue', live: 170, dead: 30 };
  await put({ ...stain, happenedAt: at(47), lotId: crop });
  await put({
    ...{ kind: 'treatment', happenedAt: at(48), lotId: crop, treatment: 'acid wash' },
    ...{ agent: 'Phosphoric acid', ph: 2.2, tempC: 3, minutes: 60 },
    override: 'The only yeast there is',
  });
  await put({ kind: 'hold', happenedAt: at(49), lotId: crop, why: 'It smells' });
  const blend = { kind: 'blend', happenedAt: at(50), parents, amountKg: 10 };
  const mixed = await put({ ...blend, override: 'Half of it is sound' });
  const second = await put(aFerment({ vesselId, strainId, gyle: '413', happenedAt: at(51) }));
  await put({ kind: 'pitch', happenedAt: at(52), fermentId: second, lotId: mixed, amountKg: 5 });
  const casks = await put({
    ...{ kind: 'rack', happenedAt: at(140), fermentId: second, batches: ['413/1'] },
  });
  const told = async (path: string) => (await api.get(path)).json();
  return { ...api, told, blend, ids: { fresh, crop, before, mixed, second, casks } };
}

const washed = { what: 'washed', why: 'The only yeast there is', at: at(48), by };
const mixedIn = { what: 'mixed', why: 'Half of it is sound', at: at(50), by };

test('a wash and a mix done all the same show on each lot and ferment the yeast went into', async () => {
  const { told, ids } = await aStoryOfReasons();
  const on = async (path: string) => (await told(path)).overrides;
  expect(await on(`/api/lots/${ids.crop}/standing`)).toMatchObject([washed]);
  expect(await on(`/api/lots/${ids.mixed}/standing`)).toMatchObject([washed, mixedIn]);
  expect(await on(`/api/ferments/${ids.second}/standing`)).toMatchObject([washed, mixedIn]);
  // What was taken of it before was not washed; what it was mixed with was not held.
  expect(await on(`/api/lots/${ids.before}/standing`)).toEqual([]);
  expect(await on(`/api/lots/${ids.fresh}/standing`)).toEqual([]);
});

test('the trace bears the same marks, on the casks too', async () => {
  const { told, ids } = await aStoryOfReasons();
  const { nodes } = await told(`/api/trace?of=${ids.crop}`);
  const marksOf = (id: string) => {
    const { marks, status } = nodes.find((node: { id: string }) => node.id === id);
    const done = marks.filter(({ what }: { what: string }) => what.endsWith('all the same'));
    return { status, done: done.map(({ what, text }: Record<string, string>) => [what, text]) };
  };
  const { code } = await told(`/api/lots/${ids.crop}/standing`);
  const { code: mixedCode } = await told(`/api/lots/${ids.mixed}/standing`);
  const wash = ['washed all the same', `${code}: The only yeast there is`];
  expect(marksOf(ids.crop).done).toEqual([['washed all the same', 'The only yeast there is']]);
  expect(marksOf(ids.mixed).done).toEqual([wash, ['mixed all the same', 'Half of it is sound']]);
  const further = [wash, ['mixed all the same', `${mixedCode}: Half of it is sound`]];
  expect(marksOf(ids.second)).toEqual({ status: 'attention', done: further });
  expect(marksOf(ids.casks)).toEqual({ status: 'attention', done: further });
  expect(marksOf(ids.before).done).toEqual([]);
});

test('the tables of lots, ferments and racks say it in a column of their own', async () => {
  const { get, ids } = await aStoryOfReasons();
  const cell = async (noun: string, id: string): Promise<string> => {
    const text = await (await get(`/api/export/${noun}.csv`)).text();
    const rows: Record<string, string>[] = parse(text, { bom: true, columns: true });
    return rows.find((row) => row.id === id)?.doneAllTheSame ?? 'missing';
  };
  expect(await cell('lots', ids.crop)).toBe(
    `washed all the same: The only yeast there is, ${at(48)}, Ines`,
  );
  expect(await cell('lots', ids.before)).toBe('');
  for (const [noun, id] of [
    ['ferments', ids.second],
    ['racks', ids.casks],
  ] as const) {
    expect(await cell(noun, id)).toContain('washed all the same: ');
    expect(await cell(noun, id)).toContain('; mixed all the same: ');
  }
});

test('a correction may not lose why a held lot was mixed in', async () => {
  const { put, blend, ids, told } = await aStoryOfReasons();
  const tidied = { ...blend, by, supersedes: ids.mixed, reason: 'Weighed again' };
  const refused = await put({ ...tidied, amountKg: 9 });
  expect(refused.status).toBe(422);
  expect((await refused.json()).errors).toMatchObject([{ path: 'override' }]);
  const kept = { ...tidied, amountKg: 9, override: 'Half of it is sound' };
  expect((await put(kept)).status).toBe(201);
  const { overrides } = await told(`/api/ferments/${ids.second}/standing`);
  expect(overrides).toMatchObject([washed, mixedIn]);
});
